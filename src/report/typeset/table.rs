//! A table set as lines of text. Where it is wider than the page, the gaps between columns shrink, then columns that may
//! go are left out, then cells are broken at the spaces of their words, and last of all sequences of turns.

use owo_colors::OwoColorize;

use super::{SetLine, in_lines, line, pad, paragraph, words};
use crate::report::look::{Look, columns, end_line};
use crate::story::blocks::{Phrase, Run, Table};

pub(super) fn set(out: &mut String, table: &Table, look: &Look) {
    let grid = Grid::of(table, look);
    let dim = look.palette.dim;
    let over = grid.over();
    if !over.is_empty() {
        line(out, &over.style(dim).to_string());
    }
    let mut titles = String::new();
    for (n, &(column, wide)) in grid.columns.iter().enumerate() {
        titles.push_str(if n > 0 { grid.gap() } else { "" });
        let text = &table.columns[column].title;
        cell(&mut titles, text, columns(text), wide, table.columns[column].figures);
    }
    line(out, &titles.trim_end().style(dim).to_string());
    for row in table.rows.iter().chain(&table.sums) {
        grid.row(out, row, look);
    }
    if !table.key.is_empty() {
        let key: Vec<_> = table.key.iter().map(Phrase::plain).collect();
        paragraph(out, &Phrase::new().run(Run::Dim(key.join("   "))), look);
    }
}

/// A cell as wide as its column: figures stand to the right.
fn cell(out: &mut String, text: &str, columns: usize, wide: usize, figures: bool) {
    let beside = wide.saturating_sub(columns);
    pad(out, if figures { beside } else { 0 });
    out.push_str(text);
    pad(out, if figures { 0 } else { beside });
}

/// What of a table is shown, and how wide.
struct Grid<'a> {
    table: &'a Table,
    /// The columns that are shown, and how wide each is.
    columns: Vec<(usize, usize)>,
    /// Columns of the page between two of the table.
    between: usize,
}

impl<'a> Grid<'a> {
    fn of(table: &'a Table, look: &Look) -> Grid<'a> {
        let cells = |column: usize| table.rows.iter().chain(&table.sums).map(move |row| &row[column]);
        let title = |column: usize| columns(&table.columns[column].title);
        let wide =
            |column: usize| cells(column).map(|cell| columns(&cell.plain())).fold(title(column), usize::max);
        // The longest of a column's words, where lines have so much room.
        let longest = |column: usize, room: usize| {
            let of_cell = |cell| words(cell, look, room).1.iter().map(|word| word.wide).max().unwrap_or(0);
            cells(column).map(of_cell).fold(title(column), usize::max)
        };
        let all = (0..table.columns.len()).map(|column| (column, wide(column))).collect();
        let mut grid = Grid { table, columns: all, between: 2 };
        if grid.wide() > look.width {
            grid.between = 1;
        }
        grid.leave_out(look.width);
        // What was left out may have made room for the gaps again.
        grid.between = 2;
        if grid.wide() > look.width {
            grid.between = 1;
        }
        grid.narrow(look.width, &|column| longest(column, usize::MAX));
        grid.narrow(look.width, &|column| longest(column, 1));
        grid
    }

    fn gap(&self) -> &'static str {
        &"  "[..self.between]
    }

    fn wide(&self) -> usize {
        let all: usize = self.columns.iter().map(|&(_, wide)| wide + self.between).sum();
        all.saturating_sub(self.between)
    }

    /// Leaves out what may go, the last first, until the rest has room.
    fn leave_out(&mut self, room: usize) {
        let of = &self.table.columns;
        while self.wide() > room {
            let Some(&(gone, _)) = self.columns.iter().rfind(|&&(column, _)| of[column].may_go) else {
                break;
            };
            // What stands under one heading goes together.
            let over = &of[gone].over;
            self.columns
                .retain(|&(column, _)| column != gone && (over.is_none() || of[column].over != *over));
        }
    }

    /// Takes from the widest column that is wider than its least, until all have room or none can give.
    fn narrow(&mut self, room: usize, least: &dyn Fn(usize) -> usize) {
        if self.wide() <= room {
            return;
        }
        let least: Vec<usize> = self.columns.iter().map(|&(column, _)| least(column)).collect();
        while self.wide() > room {
            let can_give = (0..self.columns.len()).filter(|&n| self.columns[n].1 > least[n]);
            let Some(widest) = can_give.max_by_key(|&n| self.columns[n].1) else { break };
            self.columns[widest].1 -= 1;
        }
    }

    /// What stands over the columns: right-aligned over the last of its columns, reaching to the left as far as it needs.
    fn over(&self) -> String {
        let over = |column: usize| self.table.columns[column].over.as_deref();
        let mut text = String::new();
        let mut end = 0;
        for (n, &(column, wide)) in self.columns.iter().enumerate() {
            end += wide + if n > 0 { self.between } else { 0 };
            let next = self.columns.get(n + 1).and_then(|&(next, _)| over(next));
            let Some(over) = over(column).filter(|over| !over.is_empty() && next != Some(over)) else {
                continue;
            };
            let room = end.saturating_sub(columns(&text));
            if !text.is_empty() && room <= columns(over) {
                text.push_str(self.gap());
            }
            text.push_str(&format!("{over:>room$}"));
        }
        text
    }

    /// A row: as many lines as its highest cell.
    fn row(&self, out: &mut String, row: &[Phrase], look: &Look) {
        let set = |&(column, wide): &(usize, usize)| in_lines(&row[column], look, wide);
        let cells: Vec<Vec<SetLine>> = self.columns.iter().map(set).collect();
        let high = cells.iter().map(Vec::len).max().unwrap_or(0).max(1);
        for n in 0..high {
            let from = out.len();
            for (k, (&(column, wide), lines)) in self.columns.iter().zip(&cells).enumerate() {
                out.push_str(if k > 0 { self.gap() } else { "" });
                let (text, columns) = lines.get(n).map_or(("", 0), |line| (&*line.text, line.wide));
                cell(out, text, columns, wide, self.table.columns[column].figures);
            }
            end_line(out, from);
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::report::look::Look;
    use crate::report::typeset;
    use crate::story::blocks::{Block, Column, Phrase, Table};

    fn narrow(width: usize) -> Look {
        Look { width, ..Look::plain() }
    }

    fn column(title: &str, figures: bool, may_go: bool) -> Column {
        Column { title: title.into(), over: None, figures, may_go }
    }

    fn set(table: &Table, width: usize) -> String {
        typeset::set(&[Block::Table(table.clone())], &narrow(width), &|_| String::new())
    }

    #[test]
    fn the_last_column_that_may_go_goes_first() {
        let table = Table {
            columns: vec![
                column("step", false, false),
                column("tier", false, true),
                column("turns", true, false),
            ],
            rows: vec![vec!["pair 1".into(), "lifted".into(), "7".into()]],
            sums: Some(vec!["".into(), "".into(), "60".into()]),
            key: Vec::new(),
        };
        insta::assert_snapshot!(set(&table, 40), @r"
        step    tier    turns
        pair 1  lifted      7
                           60
        ");
        insta::assert_snapshot!(set(&table, 16), @r"
        step    turns
        pair 1      7
                   60
        ");
    }

    #[test]
    fn words_are_broken_before_turns_are() {
        let table = Table {
            columns: vec![
                column("pair", false, false),
                column("line", false, false),
                column("turns", true, false),
            ],
            rows: vec![
                vec![
                    "green-orange, green-red".into(),
                    Phrase::new().turns("y R U' R' d R' U' R"),
                    "7".into(),
                ],
                vec!["blue-red".into(), Phrase::new().turns("R U R'"), "3".into()],
            ],
            sums: None,
            key: Vec::new(),
        };
        insta::assert_snapshot!(set(&table, 40), @r"
        pair           line                turns
        green-orange,  y R U' R' d R' U' R     7
        green-red
        blue-red       R U R'                  3
        ");
        insta::assert_snapshot!(set(&table, 30), @r"
        pair          line       turns
        green-orange, y R U' R'      7
        green-red     d R' U' R
        blue-red      R U R'         3
        ");
    }
}
