//! The text of a file, from its bytes.

use crate::diagnostic::{Diagnostic, MAX_SOURCE_BYTES, Source};
use crate::findings;

impl Source {
    /// The text of a file.
    ///
    /// # Errors
    /// `file-too-large` above [`MAX_SOURCE_BYTES`]; `file-not-text` if the bytes are not UTF-8 or hold a
    /// NUL. Neither has a place to show: what stands there is not text.
    pub fn from_bytes(name: impl Into<String>, bytes: Vec<u8>) -> Result<Source, Diagnostic> {
        if bytes.len() > MAX_SOURCE_BYTES {
            return Err(findings::file_too_large(MAX_SOURCE_BYTES, bytes.len()).nowhere());
        }
        if bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]) {
            return Err(findings::file_utf16().nowhere());
        }
        if let Some(at) = bytes.iter().position(|&byte| byte == 0) {
            return Err(findings::file_nul(at).nowhere());
        }
        match String::from_utf8(bytes) {
            Ok(text) => Ok(Source::new(name, text)),
            Err(error) => {
                let at = error.utf8_error().valid_up_to();
                let bytes = error.as_bytes();
                let line = 1 + bytes[..at].iter().filter(|&&byte| byte == b'\n').count();
                Err(findings::file_not_utf8(bytes[at], line).nowhere())
            }
        }
    }
}
