//! Tables: aligned columns under a header with a rule of `-`.
//!
//! No line is wider than the screen. Where one line a row does not fit, spare columns are left out first, then words wrap; what
//! still has no room, the last columns of words first, stands below its row with its heading.

use super::{bold, paragraph};
use comfy_table::{
    CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, TableStyle, Width,
};
use ellwand_contract::text::shown;

/// Where a column's text stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// A column of words.
#[must_use]
pub fn left(header: &str) -> (String, Align) {
    (header.to_owned(), Align::Left)
}

/// A column of numbers.
#[must_use]
pub fn right(header: &str) -> (String, Align) {
    (header.to_owned(), Align::Right)
}

/// Columns from their headers, set apart by strokes; `>` stands before those of numbers: `piece | >on hand | state`.
#[must_use]
pub fn headed(headers: &str) -> Vec<(String, Align)> {
    let column = |header: &str| match header.trim().strip_prefix('>') {
        Some(number) => right(number),
        None => left(header.trim()),
    };
    headers.split('|').map(column).collect()
}

/// A row, or the rule above totals.
#[derive(Debug, Clone)]
enum Line {
    Row(Vec<String>),
    Rule,
}

/// Marks the row that becomes a rule; no text of the book holds it.
const RULE: &str = "\u{1}";

/// Marks the row that becomes what stands below the one before.
const BELOW: &str = "\u{2}";

/// Longer words may be broken to save width.
const LONG_WORD: usize = 16;

/// How far what stands below a row is indented.
const INDENT: usize = 2;

/// A table. Columns that are empty in every row are left out.
#[derive(Debug, Clone)]
pub struct Table {
    columns: Vec<(String, Align)>,
    lines: Vec<Line>,
    /// Columns that may be left out where the screen is too narrow, first to last.
    spare: Vec<&'static str>,
}

impl Table {
    /// An empty table of these columns.
    #[must_use]
    pub fn new(columns: impl IntoIterator<Item = (String, Align)>) -> Self {
        Self {
            columns: columns.into_iter().collect(),
            lines: Vec::new(),
            spare: Vec::new(),
        }
    }

    /// An empty table with the columns of these headers, as in [`headed`].
    #[must_use]
    pub fn headed(headers: &str) -> Self {
        Self::new(headed(headers))
    }

    /// Adds a row; cells that are not given are empty.
    pub fn row<T: ToString>(&mut self, cells: impl IntoIterator<Item = T>) -> &mut Self {
        self.lines.push(Line::Row(
            cells
                .into_iter()
                .map(|cell| shown(&cell.to_string()).into_owned())
                .collect(),
        ));
        self
    }

    /// Adds a rule, as above a total.
    pub fn rule(&mut self) -> &mut Self {
        self.lines.push(Line::Rule);
        self
    }

    /// Columns to leave out, in this order, until the rest fits on the screen in one line a row.
    pub fn spare(&mut self, columns: &[&'static str]) -> &mut Self {
        self.spare = columns.to_vec();
        self
    }

    /// Columns that are shown at a width: those with anything in them, less the spare ones that do not fit.
    fn shown_at(&self, width: u16) -> Vec<usize> {
        let mut used: Vec<usize> = (0..self.columns.len())
            .filter(|column| self.used(*column))
            .collect();
        for name in &self.spare {
            let needed = used
                .iter()
                .map(|column| self.widest(*column).saturating_add(2));
            if needed.sum::<usize>() <= usize::from(width).saturating_add(2) {
                break;
            }
            used.retain(|column| self.columns[*column].0 != *name);
        }
        used
    }

    /// Parts the columns into those that fit beside each other and those that stand below their row. The first column stays, and
    /// numbers as long as words can go.
    fn parted(&self, mut beside: Vec<usize>, width: u16) -> (Vec<usize>, Vec<usize>) {
        let mut below = Vec::new();
        loop {
            let least = |(place, column): (usize, &usize)| {
                let is_whole = place == 0 && self.is_whole(*column, width);
                match is_whole || self.columns[*column].1 == Align::Right {
                    true => self.widest(*column),
                    false => usize::from(self.longest_word(*column)),
                }
            };
            let needed = beside
                .iter()
                .enumerate()
                .map(|of| least(of).saturating_add(2));
            if needed.sum::<usize>() <= usize::from(width).saturating_add(2) || beside.len() < 2 {
                below.sort_unstable();
                return (beside, below);
            }
            let is_word = |place: &usize| self.columns[beside[*place]].1 == Align::Left;
            let last = (1..beside.len()).rev().find(is_word);
            below.push(beside.remove(last.unwrap_or(beside.len().saturating_sub(1))));
        }
    }

    /// `kind cloth; place A2`: the cells that stand below a row, with their headings.
    fn below(&self, cells: &[String], columns: &[usize]) -> String {
        let told = columns.iter().filter_map(|column| {
            let cell = cells.get(*column).filter(|cell| !cell.is_empty())?;
            Some(
                format!("{} {cell}", self.columns[*column].0)
                    .trim()
                    .to_owned(),
            )
        });
        told.collect::<Vec<_>>().join("; ")
    }

    /// Letters of the widest cell of a column, its heading among them.
    fn widest(&self, column: usize) -> usize {
        let cells = self.lines.iter().filter_map(|line| match line {
            Line::Row(cells) => cells.get(column).map(String::as_str),
            Line::Rule => None,
        });
        let cells = cells.chain([self.columns[column].0.as_str()]);
        cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
    }

    /// Rows and rules.
    #[must_use]
    pub fn len(&self) -> usize {
        self.lines.len()
    }

    /// True without rows.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.lines.is_empty()
    }

    fn used(&self, column: usize) -> bool {
        let filled = |line: &Line| match line {
            Line::Row(cells) => cells.get(column).is_some_and(|cell| !cell.is_empty()),
            Line::Rule => false,
        };
        self.lines.iter().any(filled)
    }

    /// Columns of the longest word, so that words are not broken; a very long one may be.
    fn longest_word(&self, column: usize) -> u16 {
        let cells = self.lines.iter().filter_map(|line| match line {
            Line::Row(cells) => cells.get(column).map(String::as_str),
            Line::Rule => None,
        });
        let words = cells
            .chain([self.columns[column].0.as_str()])
            .flat_map(str::split_whitespace);
        let longest = words.map(|word| word.chars().count()).max().unwrap_or(0);
        u16::try_from(longest.min(LONG_WORD)).unwrap_or(u16::MAX)
    }

    /// The table as text that ends with a line break, wrapped to `width` columns.
    #[must_use]
    pub fn render(&self, width: u16, styled: bool) -> String {
        let (used, under) = self.parted(self.shown_at(width), width);
        let mut told = Vec::new();
        let mut table = comfy_table::Table::new();
        table.load_style(TableStyle::new().header_separator(LineStyle::none().fill('-')));
        table
            .set_content_arrangement(ContentArrangement::Dynamic)
            .set_width(width);
        table.set_header(used.iter().map(|column| self.columns[*column].0.as_str()));
        for line in &self.lines {
            match line {
                Line::Row(cells) => {
                    let cell = |column: &usize| cells.get(*column).map_or("", String::as_str);
                    table.add_row(used.iter().map(cell));
                    let below = self.below(cells, &under);
                    if !below.is_empty() {
                        table.add_row([BELOW]);
                        told.push(below);
                    }
                }
                Line::Rule => {
                    table.add_row(used.iter().map(|_| RULE));
                }
            }
        }
        for (place, column) in used.iter().enumerate() {
            if let Some(drawn) = table.column_mut(place) {
                let gap = if place + 1 == used.len() { 0 } else { 2 };
                drawn.set_padding((0, gap));
                // Codes and numbers stay whole; words wrap.
                let is_number = self.columns[*column].1 == Align::Right;
                if is_number {
                    drawn.set_cell_alignment(CellAlignment::Right);
                }
                drawn.set_constraint(
                    if is_number || (place == 0 && self.is_whole(*column, width)) {
                        ColumnConstraint::ContentWidth
                    } else {
                        ColumnConstraint::LowerBoundary(Width::Fixed(
                            self.longest_word(*column) + gap,
                        ))
                    },
                );
            }
        }
        finish(table.lines().collect(), told, width, styled)
    }

    /// True for a first column that takes no more than a third of the screen, as codes and names do.
    fn is_whole(&self, column: usize, width: u16) -> bool {
        self.widest(column) <= usize::from(width / 3)
    }
}

fn finish(lines: Vec<String>, told: Vec<String>, width: u16, styled: bool) -> String {
    let mut told = told.into_iter();
    let rule = lines
        .iter()
        .find(|line| line.starts_with('-'))
        .cloned()
        .unwrap_or_default();
    let mut header = true;
    let mut text = String::new();
    for line in &lines {
        header &= *line != rule;
        if line.contains(BELOW) {
            let below = told.next().unwrap_or_default();
            for line in paragraph::wrap(&below, INDENT, usize::from(width)) {
                text.push_str(&line);
                text.push('\n');
            }
            continue;
        }
        let line = if line.contains(RULE) { &rule } else { line };
        text.push_str(&bold(line.trim_end(), styled && header));
        text.push('\n');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_stand_right_and_empty_columns_are_left_out() {
        let mut table = Table::new([left("piece"), right("free"), left("place")]);
        table
            .row(["L1.1", "2.60 m", ""])
            .row(["L12.10", "12.60 m", ""])
            .rule()
            .row(["", "15.20 m"]);
        let expected = "piece      free\n---------------\nL1.1     2.60 m\nL12.10  12.60 m\n---------------\n        15.20 m\n";
        assert_eq!(table.render(80, false), expected);
    }

    #[test]
    fn where_it_is_too_wide_words_wrap_and_numbers_stay_whole() {
        let mut table = Table::new([left("piece"), left("material"), right("on hand")]);
        table.row(["L1.1", "linen and cotton with a long name", "4.156 yd"]);
        let text = table.render(40, false);
        assert!(
            text.lines().all(|line| line.chars().count() <= 40),
            "{text}"
        );
        assert!(
            text.contains("4.156 yd") && text.contains("on hand"),
            "{text}"
        );
        assert_eq!(text.lines().count(), 4, "{text}");
    }

    #[test]
    fn spare_columns_go_first_where_it_is_too_narrow() {
        let mut table = Table::headed("piece | kind | material | >on hand | >free");
        table.row(["L1.1", "cloth", "navy waxed cotton", "6.00 m", "5.20 m"]);
        table.spare(&["kind", "on hand"]);
        let shown = |width| {
            let text = table.render(width, false);
            (
                text.contains("kind"),
                text.contains("on hand"),
                text.lines().count(),
            )
        };
        assert_eq!(shown(50), (true, true, 3));
        assert_eq!(shown(42), (false, true, 3));
        assert_eq!(shown(35), (false, false, 3));
    }

    #[test]
    fn what_has_no_room_stands_below_its_row_with_its_heading() {
        let mut table = Table::headed("piece | material | >on hand | >free | place");
        table.row(["L1.1", "interlining", "123.4567 m", "123.4567 m", "drawer"]);
        table.row(["L1.2", "wool", "1.00 m", "1.00 m", ""]);
        // 4 + 11 + 10 + 10 letters and 3 gaps of 2: the place has no room beside them.
        let expected = "piece  material        on hand        free\n\
                        ------------------------------------------\n\
                        L1.1   interlining  123.4567 m  123.4567 m\n  \
                        place drawer\n\
                        L1.2   wool             1.00 m      1.00 m\n";
        assert_eq!(table.render(44, false), expected);
        for width in 24..80 {
            let text = table.render(width, false);
            let wide = text
                .lines()
                .find(|line| line.chars().count() > usize::from(width));
            assert_eq!(wide, None, "{width}: {text}");
        }
    }

    #[test]
    fn words_are_not_broken_even_where_nothing_fits() {
        let mut table = Table::new([
            left("piece"),
            left("material"),
            right("on hand"),
            right("free"),
            left("place"),
        ]);
        table.row(["L1.1", "interlining", "123.4567 m", "123.4567 m", "drawer"]);
        let text = table.render(40, false);
        assert!(
            text.contains("material") && text.contains("interlining") && text.contains("drawer"),
            "{text}"
        );
    }
}
