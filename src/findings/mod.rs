//! Every message a person may meet, worded in one place: how bad it is, what it says, what to do about it.
//!
//! A message is one entry of a table, in the file of its section: its code, its severity, what `docs/messages.md`
//! says of it, one or more wordings, and an example with what to write instead. Each wording is a function of what
//! it has to name, which gives a [`Finding`]; whoever finds a place for it makes a [`Diagnostic`] of the two:
//!
//! ```
//! use cornerwise::diagnostic::Span;
//! use cornerwise::findings;
//!
//! let said = findings::field_capital("title").at(Span::new(0, 5));
//! assert_eq!(said.code, findings::field_capital::CODE);
//! assert_eq!(said.help.as_deref(), Some("write `title`"));
//! ```
//!
//! To add a message, add its entry and run `CORNERWISE_UPDATE_DOCS=1 cargo test --test program messages`: the page is made
//! from the table, and the drawing under each example is what the reader said of it.

mod diff;
mod fields;
mod files;
mod groups;
mod lesson;
mod marks;
mod mend;
mod pastes;
mod replay;
mod tokens;

pub use diff::*;
pub use fields::*;
pub use files::*;
pub use groups::*;
pub use lesson::*;
pub use marks::*;
pub use mend::*;
pub use pastes::*;
pub use replay::*;
pub use tokens::*;

use crate::diagnostic::{Diagnostic, Label, Severity, Span};

/// The sections of the page, in its order.
pub const SECTIONS: [Section; 10] = [
    files::SECTION,
    fields::SECTION,
    tokens::SECTION,
    groups::SECTION,
    marks::SECTION,
    pastes::SECTION,
    replay::SECTION,
    mend::SECTION,
    diff::SECTION,
    lesson::SECTION,
];

/// Messages that belong together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Section {
    /// As the page has it.
    pub heading: &'static str,
    /// What is in it, in the order of the page.
    pub kinds: &'static [Kind],
}

/// What is known of a code before anything is found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Kind {
    /// A stable name, such as `token-unknown`.
    pub code: &'static str,
    /// How bad it is; `--strict` makes faults of notes.
    pub severity: Severity,
    /// What the page says of it, with the line breaks of the table.
    pub about: &'static str,
    /// Where it is met.
    pub example: Option<Example>,
}

/// A text that meets a code.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Example {
    /// A record, and what to write instead.
    Instead(&'static str, &'static str),
    /// Two records that do not begin alike.
    Against(&'static str, &'static str),
}

/// A message in words, without its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    severity: Severity,
    code: &'static str,
    message: String,
    /// What stands under the caret; may be empty.
    label: String,
    /// What stands under a second one.
    second: String,
    help: String,
}

impl Finding {
    /// What is to be said of this place.
    #[must_use]
    pub fn at(self, span: Span) -> Diagnostic {
        let labels = vec![Label { span, text: self.label }];
        let Finding { severity, code, message, help, .. } = self;
        Diagnostic { severity, code, message, labels, help: Some(help) }
    }

    /// What is to be said of this place and a second one.
    #[must_use]
    pub fn at_both(mut self, span: Span, second: Span) -> Diagnostic {
        let text = std::mem::take(&mut self.second);
        self.at(span).also(second, text)
    }

    /// What is to be said where there is no place to show.
    #[must_use]
    pub fn nowhere(self) -> Diagnostic {
        Diagnostic { labels: Vec::new(), ..self.at(Span::default()) }
    }
}

/// One section of the table. Of each wording it makes a function, and a module of the same name with its `CODE`.
macro_rules! findings {
    ($heading:literal;
     $(
        $(#[doc = $about:literal])+
        $severity:ident $code:literal {
            $(
                $(#[doc = $doc:literal])?
                fn $name:ident($($parameter:ident: $type:ty),*) {
                    message: $message:expr,
                    $(label: $label:expr,)?
                    $(second: $second:expr,)?
                    help: $help:expr,
                }
            )+
            $(example: $example:literal, $relation:ident: $other:literal,)?
        }
     )+) => {
        /// This section.
        pub(super) const SECTION: $crate::findings::Section = $crate::findings::Section {
            heading: $heading,
            kinds: &[$(
                $crate::findings::Kind {
                    code: $code,
                    severity: $crate::diagnostic::Severity::$severity,
                    about: concat!($($about, "\n"),+),
                    example: findings!(@example $($example, $relation, $other)?),
                }
            ),+],
        };

        $($(
            #[doc = concat!("The code of [`", stringify!($name), "()`].")]
            pub mod $name {
                /// As it is printed.
                pub const CODE: &str = $code;
            }

            #[doc = concat!("A wording of `", $code, "`.")]
            $(#[doc = concat!("\n\n", $doc)])?
            #[must_use]
            pub fn $name($($parameter: $type),*) -> $crate::findings::Finding {
                $crate::findings::Finding {
                    severity: $crate::diagnostic::Severity::$severity,
                    code: $code,
                    message: String::from($message),
                    label: findings!(@text $($label)?),
                    second: findings!(@text $($second)?),
                    help: String::from($help),
                }
            }
        )+)+
    };
    (@example) => { None };
    (@example $example:literal, instead, $other:literal) => {
        Some($crate::findings::Example::Instead($example, $other))
    };
    (@example $example:literal, against, $other:literal) => {
        Some($crate::findings::Example::Against($example, $other))
    };
    (@text) => { String::new() };
    (@text $text:expr) => { String::from($text) };
}

use findings;

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::*;

    #[test]
    fn every_code_is_there_once_and_is_a_word_of_small_letters() {
        let codes: Vec<&str> =
            SECTIONS.iter().flat_map(|section| section.kinds).map(|kind| kind.code).collect();
        assert!(codes.len() > 50);
        assert_eq!(codes.iter().collect::<HashSet<_>>().len(), codes.len());
        for code in codes {
            assert!(code.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'-'), "{code}");
        }
    }

    #[test]
    fn a_finding_keeps_its_words_at_its_places() {
        let said = field_duplicate("title").at_both(Span::new(5, 6), Span::new(1, 2));
        let labels: Vec<_> =
            said.labels.iter().map(|label| (label.span.start, label.text.as_str())).collect();
        assert_eq!(labels, [(5, "not used"), (1, "used")]);
        assert!(file_utf16().nowhere().labels.is_empty());
    }
}
