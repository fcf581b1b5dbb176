//! Messages about a whole file.

use super::findings;

findings! {
    "Files";

    /// The file has no record: it is empty, or holds comments only. Write the scramble, a blank line and the
    /// solution.
    Fault "file-empty" {
        fn file_empty() {
            message: "expected a record, found nothing",
            help: "write the scramble, a blank line, and the solution",
        }
        example: r"# to be written",
        instead: r"R2 U F2

F2 U' R2",
    }

    /// The file is not UTF-8 text: a picture, a program, a text in an old encoding or in UTF-16. A byte 0x92 is
    /// the curly prime of old Windows files. Save the file again with the encoding UTF-8.
    Fault "file-not-text" {
        fn file_not_utf8(byte: u8, line: usize) {
            message: format!("expected UTF-8, found byte 0x{byte:02X} in line {line}"),
            help: match byte {
                // In the old Western encoding of Windows these two are the typographic quotes.
                0x91 | 0x92 => "probably a curly prime; write ' or save the file with encoding UTF-8",
                _ => "save the file again with encoding UTF-8",
            },
        }
        fn file_utf16() {
            message: "expected UTF-8, found UTF-16",
            help: "save the file again with encoding UTF-8",
        }
        fn file_nul(at: usize) {
            message: format!("expected text, found a NUL byte at offset {at}"),
            help: "this looks like a picture, a video or a program, not a record",
        }
    }

    /// The file is larger than 1 MiB. Split it; a record is a few hundred bytes.
    Fault "file-too-large" {
        fn file_too_large(most: usize, bytes: usize) {
            message: format!("expected at most {most} bytes (1 MiB), found {bytes}"),
            help: "split the file; a record is a few hundred bytes",
        }
    }

    /// The file holds more than 10,000 records. The first 10,000 are read; split the file.
    Fault "records-too-many" {
        fn records_too_many(most: usize) {
            message: format!("expected at most {most} records in a file; what follows is not read"),
            help: "split the file",
        }
    }

    /// cornerwise itself failed on this record: a defect of the program, not of the record. The other records are read.
    Fault "reader-failed" {
        fn reader_failed() {
            message: "cornerwise failed on this record; that is its own defect",
            help: "the other records are read; a report with this text will help to mend it",
        }
    }

    /// The file has more than a thousand messages. From there on each record tells only its first fault (its
    /// first note, if it has no fault); this message says how many others there are.
    Note "messages-too-many" {
        fn messages_too_many(more: usize) {
            message: format!("{more} more messages are not shown, from this record on"),
            help: "each of these records tells its first fault only; mend those, then read again",
        }
    }
}
