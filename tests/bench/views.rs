//! How fast views are made from finished facts. Run with `cargo bench --bench views`; `docs/method.md` has the
//! figures.

use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::Annotation;
use cornerwise::diagnostic::Source;
use cornerwise::record;
use cornerwise::report::lanes_svg::{self, Width};
use cornerwise::report::markdown::{self, Pictures};
use cornerwise::report::picture::Style;
use cornerwise::report::{captions, html};
use cornerwise::study::Study;

fn main() {
    divan::main();
}

/// The facts of a record of the folder.
fn facts() -> Annotation {
    let text = include_str!("../../reconstructions/all-four-tiers.yaml");
    let source = Source::new("all-four-tiers.yaml", text.to_owned());
    let reading = record::read(&source);
    annotate(&Study::new(&source, 1, &reading.records[0]), &Settings::default()).facts
}

#[divan::bench]
fn page(bencher: divan::Bencher<'_, '_>) {
    let facts = facts();
    bencher.bench_local(|| {
        let page = html::page(std::slice::from_ref(&facts), Style::default());
        assert!((100_000..250_000).contains(&page.len()));
        page
    });
}

#[divan::bench]
fn markdown_with_pictures(bencher: divan::Bencher<'_, '_>) {
    let facts = facts();
    bencher.bench_local(|| {
        let made = markdown::render(&facts, &Pictures::Beside("quay".into()), Style::default());
        assert!(made.files.len() > 8);
        made
    });
}

#[divan::bench]
fn lanes(bencher: divan::Bencher<'_, '_>) {
    let facts = facts();
    bencher.bench_local(|| lanes_svg::svg(&facts, Width::Wide));
}

#[divan::bench]
fn captions_of_a_solve(bencher: divan::Bencher<'_, '_>) {
    let facts = facts();
    bencher.bench_local(|| captions::vtt(&facts, 0.0).map(|text| assert!(text.starts_with("WEBVTT"))));
}
