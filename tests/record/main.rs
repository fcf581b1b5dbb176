//! Records as people keep them: what is read of one, what is said of what is not, its times, and how a broken one is
//! mended.

mod diagnostics;
mod format_page;
mod marks_written;
mod mend;
mod mend_harder;
mod mend_measured;
mod mend_work;
mod notation_laws;
mod paste;
mod paste_corpus;
mod paste_figures;
mod paste_words;
mod paste_work;
mod reconstructions;
mod record;
mod timing;

#[path = "../support/mod.rs"]
mod support;
