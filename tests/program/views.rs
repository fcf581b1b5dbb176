//! Pages, pictures, Markdown and captions, each read back by a general-purpose reader: an XML reader, a CommonMark
//! reader. (`tests/browser` reads them with a browser and an HTML parser.)

use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::Annotation;
use cornerwise::diagnostic::Source;
use cornerwise::diff::{self, Comparison, Entry, Sides};
use cornerwise::harmless::{harmless, one_line};
use cornerwise::record;
use cornerwise::report::lanes_svg::{self, Width};
use cornerwise::report::markdown::{self, Pictures};
use cornerwise::report::picture::{self, Style};
use cornerwise::report::{captions, figures, html};
use cornerwise::story::blocks::{Block, Run};
use cornerwise::story::comparison as story;
use cornerwise::study::Study;
use pulldown_cmark::{Event, Options, Parser};

fn annotations(name: &str, text: &str) -> Vec<Annotation> {
    let source = Source::new(name, text);
    let reading = record::read(&source);
    let records = reading.records.iter().enumerate();
    records
        .map(|(n, record)| annotate(&Study::new(&source, n + 1, record), &Settings::default()).facts)
        .collect()
}

/// Every solve of the records folder.
fn solves() -> Vec<Annotation> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/reconstructions");
    let mut paths: Vec<_> =
        std::fs::read_dir(folder).expect("the records").flatten().map(|e| e.path()).collect();
    paths.retain(|path| path.extension().is_some_and(|e| e != "md"));
    paths.sort();
    let read = |path: &std::path::PathBuf| {
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        annotations(&name, &std::fs::read_to_string(path).expect("a record"))
    };
    let solves: Vec<Annotation> = paths.iter().flat_map(read).collect();
    assert!(solves.len() >= 20);
    solves
}

/// The solve of a record whose writer wishes us ill, and the words used.
fn hostile() -> (Annotation, Vec<String>) {
    let words = [
        "<script>alert(\"title\")</script> --> & 'quoted' \u{202e}desrever\u{2066} [a](b) `c` | **d** # e"
            .to_owned()
            + &"x".repeat(10_000),
        "\"><img src=x onerror=alert(1)> </style></title></svg> solver".to_owned(),
        "]]> <!-- remark --> <b>bold</b> \u{1b}[31m \u{7} ![p](q) ~~s~~".to_owned(),
        "<script>comment()</script> | cell | `tick` ``two`` </td> *a* _b_ & &amp; <!--".to_owned(),
    ];
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/reconstructions/all-four-tiers.yaml");
    let text = std::fs::read_to_string(path).expect("a record");
    let mut solve = annotations("<i>file</i>.yaml", &text).remove(0);
    // Written into the facts, because a record's own reader turns some of these away with a message.
    solve.title = Some(words[0].clone());
    solve.solver = Some(words[1].clone());
    solve.remarks = Some(words[2].clone());
    for step in &mut solve.steps {
        step.comments = vec![words[3].clone()];
        step.remarks = step.comments.clone();
    }
    (solve, words.into())
}

/// The page as an XML reader sees it: it is written so that both kinds of reader can read it.
fn read_page(page: &str) -> roxmltree::Document<'_> {
    let options = roxmltree::ParsingOptions { allow_dtd: true, ..Default::default() };
    roxmltree::Document::parse_with_options(page, options).unwrap_or_else(|error| panic!("{error}"))
}

fn text_of(node: roxmltree::Node) -> String {
    node.descendants().filter(|n| n.is_text()).filter_map(|n| n.text()).collect()
}

#[test]
fn every_solve_has_a_page_that_is_well_formed_and_whose_ids_and_links_are_sound() {
    let solves = solves();
    let pages: Vec<String> = solves
        .iter()
        .map(|solve| html::page(std::slice::from_ref(solve), Style::default()))
        .chain([html::page(&solves, Style::default())])
        .collect();
    for page in &pages {
        let read = read_page(page);
        let mut ids: Vec<&str> = read.descendants().filter_map(|n| n.attribute("id")).collect();
        let all = ids.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), all, "an id is given twice");
        for node in read.descendants() {
            for name in ["aria-labelledby", "for", "data-stage"] {
                assert!(
                    node.attribute(name).is_none_or(|id| ids.contains(&id)),
                    "{:?}",
                    node.attribute(name)
                );
            }
            if let Some(id) = node.attribute("href").and_then(|href| href.strip_prefix('#')) {
                assert!(ids.contains(&id), "#{id}");
            }
            // Nothing on the page makes a request.
            let outward =
                ["src", "href", "action", "poster", "data"].into_iter().filter_map(|n| node.attribute(n));
            for target in outward {
                assert!(target.starts_with('#') || target == "data:,", "{target}");
            }
        }
        assert_eq!(read.descendants().filter(|n| n.has_tag_name("h1")).count(), 1);
        assert_eq!(read.descendants().filter(|n| n.has_tag_name("main")).count(), 1);
        let levels: Vec<usize> = read
            .descendants()
            .filter_map(|n| n.tag_name().name().strip_prefix('h').and_then(|level| level.parse().ok()))
            .collect();
        assert!(levels.windows(2).all(|pair| pair[1] <= pair[0] + 1), "a heading is skipped: {levels:?}");
    }
    let largest = pages[..solves.len()].iter().map(String::len).max();
    assert!(largest.is_some_and(|bytes| bytes < 250_000), "{largest:?} bytes");
}

#[test]
fn a_folder_of_pages_has_an_index_that_leads_to_each() {
    let solves = solves();
    let named: Vec<html::Named> =
        solves.iter().enumerate().map(|(n, solve)| html::Named::new(n + 1, solve)).collect();
    let mut index = html::Index::default();
    solves.iter().zip(&named).for_each(|(solve, page)| index.push(solve, page));
    let index = index.page();
    let read = read_page(&index);
    let links: Vec<&str> =
        read.descendants().filter(|n| n.has_tag_name("a")).filter_map(|n| n.attribute("href")).collect();
    let names: Vec<&str> = named.iter().map(html::Named::file).collect();
    assert_eq!(links, names);
    assert!(names.is_sorted());
}

#[test]
fn what_the_page_says_is_what_the_facts_say() {
    for solve in solves() {
        let page = html::page(std::slice::from_ref(&solve), Style::default());
        let read = read_page(&page);
        for (n, step) in solve.steps.iter().enumerate() {
            let id = format!("step{n}");
            let card = read.descendants().find(|node| node.attribute("id") == Some(&id));
            if step.kind == cornerwise::annotation::StepKind::Inspection {
                assert!(card.is_none(), "an inspection has nothing to show");
                continue;
            }
            let text = text_of(card.expect("a card"));
            assert!(text.contains(&step.spelled), "{} in {text}", step.spelled);
            for next in step.next() {
                let places = [next.corner.from, next.corner.to, next.edge.from, next.edge.to];
                let places = places.map(|place| place.to_string());
                for wanted in [next.pair.to_string()].iter().chain(&places) {
                    assert!(text.contains(wanted), "{wanted} in {text}");
                }
            }
            if let Some(cleaner) = step.cleaner() {
                assert!(cleaner.same_turns || text.contains(&cleaner.text.to_string()), "{}", cleaner.text);
            }
            for stop in &step.stops {
                assert!(text.contains(&format!("{:.2} s", stop.seconds)) || stop.derived, "{text}");
            }
        }
    }
}

#[test]
fn hostile_words_are_text_on_a_page() {
    let (solve, words) = hostile();
    let tame = html::page(&solves()[..1], Style::default());
    let page = html::page(std::slice::from_ref(&solve), Style::default());
    let read = read_page(&page);
    let text = text_of(read.root());
    for word in &words {
        assert!(text.contains(&*harmless(word)), "{word:.80} is not there as text");
    }
    let elements = |read: &roxmltree::Document, name: &str| {
        read.descendants().filter(|n| n.tag_name().name() == name).count()
    };
    let read_tame = read_page(&tame);
    for name in ["script", "img", "b", "style", "title", "svg"] {
        assert_eq!(elements(&read, name), elements(&read_tame, name), "<{name}>");
    }
    let handlers =
        read.descendants().flat_map(|n| n.attributes()).filter(|a| a.name().starts_with("on")).count();
    assert_eq!(handlers, 0);
    assert!(!page.contains('\u{202e}') && !page.contains('\u{1b}'));
}

#[test]
fn hostile_words_are_text_in_markdown() {
    let (solve, words) = hostile();
    let markdown = markdown::render(&solve, &Pictures::Beside("quay".into()), Style::default());
    let options = Options::ENABLE_TABLES | Options::ENABLE_STRIKETHROUGH;
    let mut text = String::new();
    let mut links = Vec::new();
    for event in Parser::new_ext(&markdown.text, options) {
        match event {
            Event::Text(more) | Event::Code(more) => text.push_str(&more),
            Event::Html(html) | Event::InlineHtml(html) => panic!("{html:.80} became HTML"),
            Event::Start(pulldown_cmark::Tag::Link { dest_url, .. }) => links.push(dest_url.to_string()),
            Event::Start(pulldown_cmark::Tag::Strikethrough) => panic!("struck through"),
            _ => {}
        }
    }
    assert_eq!(links, Vec::<String>::new());
    for word in &words {
        let wanted: Vec<String> =
            one_line(word).split(' ').filter(|w| !w.is_empty()).map(String::from).collect();
        assert!(text.contains(&wanted.join(" ")), "{word:.80} is not there as text");
    }
}

#[test]
fn pictures_of_every_solve_are_documents_with_a_title_and_a_description() {
    let mut all = Vec::new();
    let (hostile, _) = hostile();
    for solve in solves().iter().chain([&hostile]) {
        all.extend([Width::Broad, Width::Wide, Width::Narrow].map(|width| lanes_svg::svg(solve, width)));
        all.extend(
            solve.steps.iter().map(|step| picture::svg(&figures::step(solve, step, Style::default()))),
        );
        all.extend(
            (0..solve.moments.len())
                .step_by(7)
                .filter_map(|m| figures::moment(solve, m, Style::default()))
                .map(|p| picture::svg(&p)),
        );
    }
    for drawn in all {
        let read = roxmltree::Document::parse(drawn.as_str()).expect("well-formed");
        let root = read.root_element();
        assert_eq!((root.tag_name().name(), root.attribute("role")), ("svg", Some("img")));
        for name in ["title", "desc"] {
            let text = root.children().find(|n| n.tag_name().name() == name).map(text_of).unwrap_or_default();
            assert!(!text.trim().is_empty(), "no {name}");
        }
        assert!(
            !drawn.as_str().contains("NaN") && !drawn.as_str().contains("inf"),
            "{:.200}",
            drawn.as_str()
        );
    }
}

#[test]
fn captions_of_every_timed_solve_can_be_read_in_time() {
    let mut n_timed = 0;
    for solve in solves() {
        match captions::cues(&solve, 0.0) {
            Err(error) => assert!(error.to_string().starts_with("captions need"), "{error}"),
            Ok(cues) => {
                n_timed += 1;
                for cue in &cues {
                    let rate = cue.text.chars().count() as f64 / (cue.end - cue.start);
                    assert!(
                        rate <= captions::CHARACTERS_A_SECOND,
                        "{}: {rate} characters a second",
                        cue.text
                    );
                    // Two lines are what a caption has room for.
                    assert!(cue.text.lines().count() <= 2, "{}", cue.text);
                }
                assert!(cues.windows(2).all(|pair| pair[0].end <= pair[1].start + 1e-9));
            }
        }
    }
    assert!(n_timed >= 10, "{n_timed} timed solves");
}

#[test]
fn a_record_that_breaks_off_has_a_page_all_the_same() {
    for text in ["R U F\n\nR", "R\n\nR' U T'", "R U\n\n", "R U R' U'\n\nx y z"] {
        for solve in annotations("broken.txt", text) {
            let page = html::page(std::slice::from_ref(&solve), Style::default());
            read_page(&page);
            assert!(markdown::render(&solve, &Pictures::Inline, Style::default()).files.is_empty());
            assert!(!lanes_svg::svg(&solve, Width::Narrow).as_str().is_empty());
            captions::vtt(&solve, 0.0).expect_err("no times");
        }
    }
}

/// The two records of one file compared, with words of their writers that wish us ill.
fn comparison() -> (Comparison, &'static str) {
    let hostile = "<script>x()</script> | **b** `c` --> \u{202e}d";
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/reconstructions/fork-after-first-pair.yaml");
    let source = Source::new("fork.yaml", std::fs::read_to_string(path).expect("a record"));
    let reading = record::read(&source);
    let mut facts: Vec<Annotation> = (0..2)
        .map(|n| annotate(&Study::new(&source, n + 1, &reading.records[n]), &Settings::default()).facts)
        .collect();
    for facts in &mut facts {
        (facts.title, facts.solver) = (Some(hostile.into()), Some(hostile.into()));
    }
    let entry = |n: usize| Entry { study: Study::new(&source, n + 1, &reading.records[n]), facts: &facts[n] };
    (diff::compare(Sides { a: entry(0), b: entry(1) }, &diff::Settings::default()), hostile)
}

#[test]
fn two_solves_compared_are_a_page_with_both_lanes_on_one_scale() {
    let (comparison, hostile) = comparison();
    let page = html::diff::page(std::slice::from_ref(&comparison));
    let read = read_page(&page);
    let text = text_of(read.root());
    assert!(text.contains(&*harmless(hostile)));
    for row in &comparison.rows {
        for step in [&row.a, &row.b].into_iter().flatten().flat_map(|side| &side.steps) {
            assert!(text.contains(&step.written), "{}", step.written);
        }
    }
    for block in story::comparison(&comparison) {
        let Block::Items(items) = block else { continue };
        for words in items.iter().flat_map(|item| &item.words.runs).filter_map(|run| match run {
            Run::Words(words) => Some(words.trim()),
            _ => None,
        }) {
            assert!(text.contains(words), "{words}");
        }
    }
    let mut ids: Vec<&str> = read.descendants().filter_map(|n| n.attribute("id")).collect();
    let all = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), all, "an id is given twice");
    // The last label of each axis is the same.
    let ends: Vec<&str> = read
        .descendants()
        .filter(|n| n.tag_name().name() == "text")
        .filter_map(|n| n.text())
        .filter(|text| text.ends_with(" s") && text[..text.len() - 2].parse::<f64>().is_ok())
        .collect();
    assert_eq!(ends.len(), 4, "{ends:?}");
    assert!(ends[0] == ends[2] && ends[1] == ends[3], "{ends:?}");
    let both = html::diff::page(&[comparison.clone(), comparison]);
    assert_eq!(read_page(&both).descendants().filter(|n| n.has_tag_name("h1")).count(), 1);
}

#[test]
fn two_solves_compared_are_markdown_whose_links_lead_somewhere() {
    let (comparison, hostile) = comparison();
    let markdown = markdown::diff::render(&comparison, &Pictures::Beside("fork".into()));
    let (mut text, mut links) = (String::new(), Vec::new());
    for event in Parser::new_ext(&markdown.text, Options::ENABLE_TABLES) {
        match event {
            Event::Text(more) | Event::Code(more) => text.push_str(&more),
            Event::Html(html) | Event::InlineHtml(html) => panic!("{html:.80} became HTML"),
            Event::Start(pulldown_cmark::Tag::Image { dest_url, .. }) => links.push(dest_url.to_string()),
            _ => {}
        }
    }
    assert!(text.contains(&one_line(hostile)), "{text:.300}");
    let names: Vec<String> = markdown.files.iter().map(|(name, _)| name.clone()).collect();
    assert_eq!(links, names);
    assert!(names.is_sorted() && names.len() > 8);
    for (name, drawn) in &markdown.files {
        assert!(roxmltree::Document::parse(drawn).is_ok(), "{name}");
    }
}

/// A colour or size that a page takes from a name the style does not define is none, and what is drawn with it is not
/// seen.
#[test]
fn every_name_that_a_page_draws_with_is_defined() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/reconstructions/season");
    let mut names: Vec<_> =
        std::fs::read_dir(folder).expect("the season").flatten().map(|e| e.path()).collect();
    names.sort();
    let season = names
        .iter()
        .flat_map(|path| annotations("season", &std::fs::read_to_string(path).expect("a record")));
    let mut gathered = cornerwise::survey::Gathered::new(cornerwise::survey::Wanted::default());
    season.for_each(|facts| {
        gathered.take(cornerwise::survey::Solve::of(&facts));
    });
    let (solvers, _) = gathered.solvers();
    let survey = cornerwise::survey::survey(
        &solvers[0],
        vec!["season".into()],
        &cornerwise::survey::Wanted::default(),
        &cornerwise::survey::stops::Procedure::default(),
    );
    let survey = html::survey::page(&[survey]);
    assert!(survey.contains("80 % interval.") && survey.contains("class=\"part\""));
    for page in [survey, html::page(&solves(), Style::default())] {
        let defined: std::collections::BTreeSet<&str> =
            page.split("--").skip(1).filter_map(|rest| rest.split_once(':')).map(|(name, _)| name).collect();
        let used: std::collections::BTreeSet<&str> =
            page.split("var(--").skip(1).filter_map(|rest| rest.split([')', ',']).next()).collect();
        assert!(used.len() > 5, "{used:?}");
        let undefined: Vec<_> = used.difference(&defined).collect();
        assert!(undefined.is_empty(), "{undefined:?}");
    }
}
