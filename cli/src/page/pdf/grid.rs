//! Tables: columns as wide as their figures, the one with words as wide as they leave it.

use super::{
    pen::{LEFT, Pen, WIDTH},
    tags::Kind,
    text::{Line, SMALL, STRONG, Style, TEXT, wrap},
};
use crate::page::document::{Bar, Cell, Column, Row, Table, left, right};

const GAP: f32 = 16.0;
const PAD: f32 = 2.5;
/// Least width of the column that takes what the others leave.
const LEAST: f32 = WIDTH / 4.0;

/// Draws a table.
pub(super) fn table(pen: &mut Pen, table: &Table) {
    let cells = table.rows.iter().filter_map(|row| match row {
        Row::Group(_) => None,
        Row::Cells(cells) => Some((cells, TEXT)),
        Row::Total(cells) => Some((cells, STRONG)),
    });
    let grid = Grid::new(&table.columns, 0, &cells.collect::<Vec<_>>());
    pen.tags.open(Kind::Table);
    grid.head(pen);
    let mut after_total = false;
    for row in &table.rows {
        let is_total = matches!(row, Row::Total(_));
        let lines = match row {
            Row::Group(name) => vec![wrap(name, STRONG, WIDTH)],
            Row::Cells(cells) => grid.lines(cells, TEXT),
            Row::Total(cells) => grid.lines(cells, STRONG),
        };
        // A name does not stand alone at the foot of a page.
        let below = if matches!(row, Row::Group(_)) {
            2.0 * TEXT.leading() + SMALL.leading()
        } else {
            0.0
        };
        if !pen.fits(height(&lines) + below) {
            pen.turn();
            grid.head(pen);
        } else if is_total != after_total {
            pen.rule(LEFT, WIDTH, if is_total { 0.0 } else { 0.75 });
        }
        grid.row(pen, lines, Kind::Cell);
        if !is_total {
            pen.rule(
                LEFT,
                WIDTH,
                if matches!(row, Row::Group(_)) {
                    0.0
                } else {
                    0.75
                },
            );
        }
        after_total = is_total;
    }
    pen.tags.close();
}

/// Draws bars between the names and the figures of their parts.
pub(super) fn bars(pen: &mut Pen, bars: &[Bar]) {
    let columns = [left("Part"), left("Size"), right("Amount"), right("Share")];
    let cells = |bar: &Bar| {
        let remark = bar.drawn.err().unwrap_or_default();
        [&bar.name, remark, &bar.amount, &bar.share].map(Cell::new)
    };
    let rows: Vec<Vec<Cell>> = bars.iter().map(|bar| cells(bar).into()).collect();
    let grid = Grid::new(
        &columns,
        1,
        &rows.iter().map(|cells| (cells, TEXT)).collect::<Vec<_>>(),
    );
    pen.tags.open(Kind::Table);
    grid.head(pen);
    for (bar, cells) in bars.iter().zip(&rows) {
        let lines = grid.lines(cells, TEXT);
        if !pen.fits(height(&lines)) {
            pen.turn();
            grid.head(pen);
        }
        if let (Ok((from, width)), Some((x, whole))) = (bar.drawn, grid.places.get(1)) {
            let part = |thousandths: u16| whole * f32::from(thousandths) / 1000.0;
            pen.bar(x + part(from), PAD + 1.5, part(width), TEXT.leading() - 3.0);
        }
        grid.row(pen, lines, Kind::Cell);
        pen.rule(LEFT, WIDTH, 0.75);
    }
    pen.tags.close();
}

/// Where the columns of a table stand.
struct Grid<'c> {
    columns: &'c [Column],
    /// Left edge and width of each.
    places: Vec<(f32, f32)>,
}

impl<'c> Grid<'c> {
    /// Columns as wide as their widest line; the widest are cut down until `flexible` has a quarter of the page left.
    fn new(columns: &'c [Column], flexible: usize, rows: &[(&Vec<Cell>, Style)]) -> Self {
        let natural = |place: usize| {
            let name = columns.get(place).map_or("", |column| column.name.as_str());
            let cells = rows
                .iter()
                .filter_map(|(cells, style)| cells.get(place).map(|cell| (cell, *style)));
            let cells = cells.flat_map(|(cell, style)| lines(cell, style, WIDTH));
            let widest = wrap(name, STRONG, WIDTH)
                .into_iter()
                .chain(cells)
                .map(|line| line.width());
            // A hair more, so that no sum of fractions breaks the widest line.
            widest.fold(0.0, f32::max) + 0.1
        };
        let mut widths: Vec<f32> = (0..columns.len()).map(natural).collect();
        let gaps = GAP * columns.len().saturating_sub(1) as f32;
        if let Some(width) = widths.get_mut(flexible) {
            *width = 0.0;
        }
        let room = WIDTH - gaps;
        let mut widest = room;
        while widths.iter().sum::<f32>() > room - LEAST {
            widest *= 0.95;
            widths
                .iter_mut()
                .for_each(|width| *width = width.min(widest));
        }
        let others: f32 = widths.iter().sum();
        if let Some(width) = widths.get_mut(flexible) {
            *width = room - others;
        }
        let mut x = LEFT;
        let place = |width: f32| {
            let place = (x, width);
            x += width + GAP;
            place
        };
        Self {
            columns,
            places: widths.into_iter().map(place).collect(),
        }
    }

    fn lines(&self, cells: &[Cell], style: Style) -> Vec<Vec<Line>> {
        cells
            .iter()
            .zip(&self.places)
            .map(|(cell, (_, width))| lines(cell, style, *width))
            .collect()
    }

    /// The names of the columns; a row of the table stands under them on the same page.
    fn head(&self, pen: &mut Pen) {
        let names: Vec<Cell> = self
            .columns
            .iter()
            .map(|column| Cell::new(&column.name))
            .collect();
        let names = self.lines(&names, STRONG);
        pen.keep(height(&names) + 2.0 * TEXT.leading() + 2.0 * PAD);
        self.row(pen, names, Kind::Head);
        pen.rule(LEFT, WIDTH, 0.0);
    }

    /// Cells side by side; a row that is higher than a page goes on at the next.
    fn row(&self, pen: &mut Pen, cells: Vec<Vec<Line>>, kind: Kind) {
        pen.tags.open(Kind::Row);
        let nodes: Vec<_> = cells.iter().map(|_| pen.tags.add(kind)).collect();
        pen.tags.close();
        pen.skip(PAD);
        let mut cells: Vec<_> = cells.into_iter().map(Vec::into_iter).collect();
        loop {
            let lines: Vec<_> = cells.iter_mut().map(Iterator::next).collect();
            let leading = lines.iter().flatten().map(|line| line.style.leading());
            let Some(leading) = leading.reduce(f32::max) else {
                break;
            };
            pen.keep(leading);
            let places = self.places.iter().zip(self.columns).zip(&nodes);
            for (line, (((x, width), column), node)) in lines.into_iter().zip(places) {
                let Some(line) = line else { continue };
                let left = if column.is_right {
                    x + width - line.width()
                } else {
                    *x
                };
                pen.write(line, left, *node);
            }
            pen.skip(leading);
        }
        pen.skip(PAD);
    }
}

fn lines(cell: &Cell, style: Style, width: f32) -> Vec<Line> {
    let note = cell.note.iter().flat_map(|note| wrap(note, SMALL, width));
    wrap(&cell.text, style, width)
        .into_iter()
        .chain(note)
        .collect()
}

/// Height of a row whose cells have these lines.
fn height(cells: &[Vec<Line>]) -> f32 {
    let cell = |lines: &Vec<Line>| lines.iter().map(|line| line.style.leading()).sum();
    cells.iter().map(cell).fold(0.0, f32::max) + 2.0 * PAD
}
