//! A small writer for XML and HTML that cannot write anything else.
//!
//! Text and attributes are escaped by the writer, never by its callers; every element that is opened is closed;
//! numbers are written with a fixed number of decimals, so that the same figure is the same bytes everywhere.
//! Finished markup is a [`Fragment`], and only a fragment can be put into other markup as it is.
//!
//! ```
//! use cornerwise::report::markup::Markup;
//! let mut out = Markup::new();
//! out.open("p").attr("title", "\"quoted\"").text("1 < 2").close();
//! assert_eq!(out.finish().as_str(), "<p title=\"&quot;quoted&quot;\">1 &lt; 2</p>");
//! ```

use std::fmt::{self, Display, Write as _};

use crate::harmless::harmless;

/// Finished, well-formed markup.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Fragment(String);

impl Fragment {
    /// The markup.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl Fragment {
    /// HTML that another writer made, which escapes as this one does.
    pub(crate) const fn of_another_writer(html: String) -> Fragment {
        Fragment(html)
    }
}

impl From<Fragment> for String {
    fn from(fragment: Fragment) -> String {
        fragment.0
    }
}

/// Markup being written.
#[derive(Debug, Default)]
pub struct Markup {
    out: String,
    open: Vec<&'static str>,
    /// The last start tag still lacks its `>`, so attributes may follow.
    in_tag: bool,
}

impl Markup {
    /// Nothing yet.
    #[must_use]
    pub fn new() -> Markup {
        Markup::default()
    }

    /// Opens an element. Names come from the program, never from a record, and are written as they are.
    pub fn open(&mut self, name: &'static str) -> &mut Markup {
        self.end_tag();
        self.out.push('<');
        self.out.push_str(name);
        self.open.push(name);
        self.in_tag = true;
        self
    }

    /// Gives the element just opened an attribute.
    ///
    /// # Panics
    ///
    /// If something was written since the element was opened.
    pub fn attr(&mut self, name: &'static str, value: impl Display) -> &mut Markup {
        assert!(self.in_tag, "attributes come before content");
        let _ = write!(self.out, " {name}=\"");
        let _ = write!(Escaped { out: &mut self.out, attribute: true }, "{value}");
        self.out.push('"');
        self
    }

    /// The attribute with this number, to two decimals.
    pub fn num(&mut self, name: &'static str, value: f64) -> &mut Markup {
        self.attr(name, Number(value))
    }

    /// The attribute, if there is a value.
    pub fn attr_if(&mut self, name: &'static str, value: Option<impl Display>) -> &mut Markup {
        match value {
            Some(value) => self.attr(name, value),
            None => self,
        }
    }

    /// Text inside the element.
    pub fn text(&mut self, text: impl Display) -> &mut Markup {
        self.end_tag();
        let _ = write!(Escaped { out: &mut self.out, attribute: false }, "{text}");
        self
    }

    /// Finished markup inside the element, as it is.
    pub fn put(&mut self, fragment: &Fragment) -> &mut Markup {
        self.end_tag();
        self.out.push_str(&fragment.0);
        self
    }

    /// A `style` or `script` element; its text is not escaped in HTML, so it must be the program's own.
    ///
    /// # Panics
    ///
    /// If the text holds `</` or `<!--`, which could end the element early.
    pub fn own_text(&mut self, text: &'static str) -> &mut Markup {
        assert!(!text.contains("</") && !text.contains("<!--"), "would end the element");
        self.end_tag();
        self.out.push_str(text);
        self
    }

    /// JSON inside a `script` element of a data type: `<` is written as its JSON escape, so that no text in it can
    /// end the element.
    pub fn json(&mut self, value: &serde_json::Value) -> &mut Markup {
        self.end_tag();
        self.out.push_str(&value.to_string().replace('<', "\\u003c").replace('&', "\\u0026"));
        self
    }

    /// Closes the element opened last.
    ///
    /// # Panics
    ///
    /// If none is open.
    pub fn close(&mut self) -> &mut Markup {
        self.end_tag();
        let name = self.open.pop().expect("an element is open");
        let _ = write!(self.out, "</{name}>");
        self
    }

    /// Closes the element just opened as one without content: `<path/>`, `<meta/>`. In HTML only for elements that
    /// never have any.
    ///
    /// # Panics
    ///
    /// If something was written since it was opened.
    pub fn empty(&mut self) -> &mut Markup {
        assert!(self.in_tag, "an element with content is closed, not empty");
        self.open.pop();
        self.in_tag = false;
        self.out.push_str("/>");
        self
    }

    /// An element with nothing but text.
    pub fn leaf(&mut self, name: &'static str, text: impl Display) -> &mut Markup {
        self.open(name).text(text).close()
    }

    /// A line end, between elements, for those who read the source.
    pub fn line(&mut self) -> &mut Markup {
        self.end_tag();
        self.out.push('\n');
        self
    }

    /// The finished markup.
    ///
    /// # Panics
    ///
    /// If an element is still open.
    #[must_use]
    pub fn finish(mut self) -> Fragment {
        self.end_tag();
        assert!(self.open.is_empty(), "still open: {:?}", self.open);
        Fragment(self.out)
    }

    fn end_tag(&mut self) {
        if self.in_tag {
            self.out.push('>');
            self.in_tag = false;
        }
    }
}

/// A number with at most two decimals and no zeros at their end, never `-0`.
#[derive(Debug, Clone, Copy)]
pub struct Number(pub f64);

impl Display for Number {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = format!("{:.2}", self.0);
        let text = text.trim_end_matches('0').trim_end_matches('.');
        f.write_str(if text == "-0" { "0" } else { text })
    }
}

/// Escapes what is written to it.
struct Escaped<'a> {
    out: &'a mut String,
    attribute: bool,
}

impl fmt::Write for Escaped<'_> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        for c in harmless(text).chars() {
            match c {
                '&' => self.out.push_str("&amp;"),
                '<' => self.out.push_str("&lt;"),
                '>' => self.out.push_str("&gt;"),
                '"' if self.attribute => self.out.push_str("&quot;"),
                '\'' if self.attribute => self.out.push_str("&#39;"),
                // A parser would make these into spaces.
                '\n' if self.attribute => self.out.push_str("&#10;"),
                '\t' if self.attribute => self.out.push_str("&#9;"),
                c => self.out.push(c),
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn numbers_are_short_and_never_minus_nothing() {
        let shown = [0.0, -0.001, 1.0, 1.5, 2.345, 1e-9, -3.1].map(|n| Number(n).to_string());
        assert_eq!(shown, ["0", "0", "1", "1.5", "2.35", "0", "-3.1"].map(String::from));
    }

    #[test]
    fn text_in_a_script_cannot_end_it() {
        let mut out = Markup::new();
        out.open("script").json(&serde_json::json!({ "title": "</script><!--" })).close();
        assert_eq!(out.finish().as_str(), r#"<script>{"title":"\u003c/script>\u003c!--"}</script>"#);
    }

    #[test]
    #[should_panic(expected = "still open")]
    fn nothing_is_left_open() {
        let mut out = Markup::new();
        out.open("p").text("…");
        let _ = out.finish();
    }

    proptest! {
        /// Judged by an XML reader that is not ours.
        #[test]
        fn an_xml_reader_reads_back_what_was_written(text in any::<String>(), value in any::<String>()) {
            let mut out = Markup::new();
            out.open("a").attr("b", &value).text(&text).open("c").empty().close();
            let out = out.finish();
            let read = roxmltree::Document::parse(out.as_str()).expect("well-formed");
            prop_assert_eq!(read.root_element().attribute("b").unwrap_or(""), harmless(&value));
            let read_text: String =
                read.descendants().filter(|n| n.is_text()).filter_map(|n| n.text()).collect();
            prop_assert_eq!(read_text, harmless(&text));
        }
    }
}
