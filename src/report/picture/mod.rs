//! One position as a picture: an SVG that stands alone and can be put into a page as it is.
//!
//! There are two ways to draw a cube. [`View::Held`] shows it as hands hold it, with the hidden sides hung beside it
//! from the edges they share ([`held`]); it needs no explanation and is what everything uses. [`View::Folded`] folds
//! the sides out around the layer that is up (`folded`): every place is one connected spot there, so the way of a
//! piece through a step can be drawn.

mod folded;
pub mod held;
pub mod plan;
mod shape;

pub use crate::annotation::LaneGrade;
use crate::cube::{Colour, FaceSet, Place, Stickers};

use super::markup::{Fragment, Markup};
use plan::Point;

/// A piece to point out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ring {
    /// Its place in the hold of the picture.
    pub place: Place,
    /// The places it goes to, in order; empty if it stays.
    pub track: Vec<Place>,
    /// What the eyes have of it, if that is to be shown.
    pub sight: Option<LaneGrade>,
}

/// What each sticker bears besides its colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Signs {
    /// Nothing.
    #[default]
    None,
    /// The first letter of its colour.
    Letters,
    /// A shape: a disc, a bar, a triangle, open or filled; colours that lie opposite each other share one.
    Shapes,
}

/// How a cube is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum View {
    /// As it is held, the hidden sides beside it.
    #[default]
    Held,
    /// The sides folded out around the layer that is up.
    Folded,
}

/// How pictures are wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Style {
    /// What each sticker also bears.
    pub signs: Signs,
    /// How the cube is drawn.
    pub view: View,
    /// Whether the sides that are out of sight are blank, as they are to the eyes.
    pub blank: bool,
}

/// What to draw.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// What is to be seen.
    pub stickers: Stickers,
    /// The faces in sight.
    pub sight: FaceSet,
    /// What it is, in few words.
    pub title: String,
    /// What is to be seen, in words, for those who do not see it.
    pub description: String,
    /// The pieces to point out.
    pub rings: Vec<Ring>,
    /// How it is wanted.
    pub style: Style,
}

/// The colour a sticker is painted in, and one to write on it with a contrast of at least 4.5 to 1.
///
/// The six were found by a search: whatever two of them, they stay apart for the three kinds of colour blindness and
/// in grey (the tests compute it).
#[must_use]
pub const fn paint(colour: Colour) -> (&'static str, &'static str) {
    match colour {
        Colour::White => ("#faf8f2", INK),
        Colour::Yellow => ("#f8da35", INK),
        Colour::Green => ("#12936a", INK),
        Colour::Blue => ("#1b3a94", "#ffffff"),
        Colour::Red => ("#ac1826", "#ffffff"),
        Colour::Orange => ("#e97d1c", INK),
    }
}

/// What a sticker is painted in of which nothing is known yet.
const BLANK: &str = "#8b9298";
/// The body of the cube, and what is written on light stickers.
const INK: &str = "#11161a";

/// Draws it. The same picture is the same bytes everywhere.
#[must_use]
pub fn svg(picture: &Picture) -> Fragment {
    match picture.style.view {
        View::Held => held::svg(picture, true),
        View::Folded => folded::svg(picture),
    }
}

/// The same for a page that brings its own style sheet: without names at the pieces, which would be too small to read.
#[must_use]
pub fn still(picture: &Picture) -> Fragment {
    match picture.style.view {
        View::Held => held::svg(picture, false),
        View::Folded => folded::svg(picture),
    }
}

/// A picture for a script to fill: every sticker by itself, numbered by `data-n` as an annotation writes them, and
/// the pointer of every place, named by `data-place`, to be shown or hidden.
#[must_use]
pub fn stage(sight: FaceSet, view: View) -> Fragment {
    match view {
        View::Held => held::stage(sight),
        View::Folded => folded::stage(sight),
    }
}

/// A closed path through the points.
fn path(points: &[Point]) -> String {
    let mut d = String::new();
    for (i, point) in points.iter().enumerate() {
        d.push(if i == 0 { 'M' } else { 'L' });
        d.push_str(&at(*point));
    }
    d.push('Z');
    d
}

/// A point as a path has it.
fn at(point: Point) -> String {
    format!("{} {}", super::markup::Number(point.x), super::markup::Number(point.y))
}

fn middle(cell: &[Point]) -> Point {
    let n = cell.len() as f64;
    Point::new(cell.iter().map(|p| p.x).sum::<f64>() / n, cell.iter().map(|p| p.y).sum::<f64>() / n)
}

/// What a sticker bears, around its middle; `size` is the height of a letter.
fn sign(out: &mut Markup, signs: Signs, colour: Colour, at: Point, size: f64) {
    match signs {
        Signs::None => {}
        Signs::Letters => {
            out.open("text").num("x", at.x).num("y", at.y + size * 0.36).num("font-size", size);
            out.attr("text-anchor", "middle").attr("font-weight", "bold").attr("fill", paint(colour).1);
            out.text(colour.letter()).close();
        }
        Signs::Shapes => shape::draw(out, colour, at, size),
    }
}

#[cfg(test)]
mod tests;
