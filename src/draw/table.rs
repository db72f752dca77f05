//! Tables on a sheet: fixed columns, measured words, cells that wrap, numbers set on their decimal point, hairlines only.
//! A table too high for its place is split; every part repeats the head.

use crate::draw::sheet::{Anchor, Draw, Line, Point, Type};
use crate::draw::text;

/// How the cells of a column stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    Start,
    Middle,
    End,
    /// Numbers below each other by their decimal point; what follows the number (a unit) hangs behind it.
    Point,
}

/// A column: its head, its width in millimetres, how its cells stand.
#[derive(Clone, Debug)]
pub struct Column {
    pub head: String,
    pub width: f64,
    pub align: Align,
}

impl Column {
    pub fn new(head: &str, width: f64, align: Align) -> Self {
        Column { head: head.to_string(), width, align }
    }
}

#[derive(Clone, Debug)]
enum Row {
    Cells(Vec<String>),
    Total(Vec<String>),
    Part(String),
}

/// A table being put together.
#[derive(Clone, Debug)]
pub struct Table {
    columns: Vec<Column>,
    rows: Vec<Row>,
}

/// Room between a cell's words and its column's edge.
const PAD: f64 = 1.2;
/// Room above and below a row's words.
const AIR: f64 = 0.7;

impl Table {
    pub fn new(columns: Vec<Column>) -> Self {
        Table { columns, rows: Vec::new() }
    }

    /// Adds a row; missing cells stay empty, surplus ones are left out.
    pub fn row<S: Into<String>>(&mut self, cells: impl IntoIterator<Item = S>) -> &mut Self {
        self.rows.push(Row::Cells(cells.into_iter().map(Into::into).collect()));
        self
    }
    /// Adds a row set off by a line and strong type.
    pub fn total<S: Into<String>>(&mut self, cells: impl IntoIterator<Item = S>) -> &mut Self {
        self.rows.push(Row::Total(cells.into_iter().map(Into::into).collect()));
        self
    }
    /// Adds a heading across all columns.
    pub fn part(&mut self, words: &str) -> &mut Self {
        self.rows.push(Row::Part(words.to_string()));
        self
    }

    /// Width in millimetres.
    pub fn width(&self) -> f64 {
        self.columns.iter().map(|c| c.width).sum()
    }

    /// Height in millimetres, head included.
    pub fn height(&self) -> f64 {
        self.head_height() + self.rows.iter().map(|r| self.row_height(r)).sum::<f64>()
    }

    /// The same rows as tables that are each at most `height` high (a single row higher than that stands alone).
    pub fn split(&self, height: f64) -> Vec<Table> {
        let mut parts = vec![Table::new(self.columns.clone())];
        let mut used = self.head_height();
        for row in &self.rows {
            let high = self.row_height(row);
            if used + high > height && parts.last().is_some_and(|p| !p.rows.is_empty()) {
                parts.push(Table::new(self.columns.clone()));
                used = self.head_height();
            }
            used += high;
            if let Some(part) = parts.last_mut() {
                part.rows.push(row.clone());
            }
        }
        parts
    }

    /// Draws the table with its top left corner at `top_left`; gives the y below its last line.
    pub fn draw(&self, draw: &mut impl Draw, top_left: impl Into<Point>) -> f64 {
        let Point { x, mut y } = top_left.into();
        let right = x + self.width();
        let points = self.decimal_places();
        if self.head_height() > 0.0 {
            let heads: Vec<String> = self.columns.iter().map(|c| c.head.clone()).collect();
            y = self.cells(draw, Type::Note, (x, y), &heads, &[]);
            draw.line(Line::Outline, (x, y), (right, y));
        }
        for row in &self.rows {
            y = match row {
                Row::Cells(cells) => self.cells(draw, Type::Small, (x, y), cells, &points),
                Row::Total(cells) => {
                    draw.line(Line::Detail, (x, y), (right, y));
                    self.cells(draw, Type::Label, (x, y), cells, &points)
                }
                Row::Part(words) => {
                    let base = text::base(Type::Strong, y + 2.0 * AIR);
                    draw.words(Type::Strong, Anchor::Start, (x + PAD, base), words.as_str());
                    y + self.row_height(row)
                }
            };
            draw.line(Line::Grid, (x, y), (right, y));
        }
        y
    }

    fn head_height(&self) -> f64 {
        if self.columns.iter().all(|c| c.head.is_empty()) {
            return 0.0;
        }
        let highest = self.columns.iter().map(|c| text::height(Type::Note, &c.head, room(c)));
        highest.fold(0.0, f64::max) + 2.0 * AIR
    }

    fn row_height(&self, row: &Row) -> f64 {
        let (kind, cells) = match row {
            Row::Cells(cells) => (Type::Small, cells),
            Row::Total(cells) => (Type::Label, cells),
            Row::Part(_) => return text::leading(Type::Strong) + 3.0 * AIR,
        };
        let heights = self.columns.iter().zip(cells).map(|(column, cell)| match column.align {
            Align::Point => text::leading(kind),
            _ => text::height(kind, cell, room(column)),
        });
        heights.fold(text::leading(kind), f64::max) + 2.0 * AIR
    }

    /// For each column set on the point: how far left of its right edge the points stand, so that the widest tail fits.
    fn decimal_places(&self) -> Vec<f64> {
        let tail = |row: &Row, i: usize| match row {
            Row::Cells(cells) => cells.get(i).map_or(0.0, |c| text::width(Type::Small, at_point(c).1)),
            Row::Total(cells) => cells.get(i).map_or(0.0, |c| text::width(Type::Label, at_point(c).1)),
            Row::Part(_) => 0.0,
        };
        let widest = |i: usize| self.rows.iter().map(|r| tail(r, i)).fold(0.0, f64::max);
        (0..self.columns.len()).map(widest).collect()
    }

    /// One row of cells; gives the y below it.
    fn cells(&self, draw: &mut impl Draw, kind: Type, at: (f64, f64), cells: &[String], points: &[f64]) -> f64 {
        let (mut x, y) = at;
        let mut bottom = y + text::leading(kind);
        for (i, (column, cell)) in self.columns.iter().zip(cells).enumerate() {
            let (left, right) = (x + PAD, x + column.width - PAD);
            let base = text::base(kind, y + AIR);
            match (column.align, points.get(i)) {
                (Align::Point, Some(tail)) => {
                    let (number, unit) = at_point(cell);
                    draw.words(kind, Anchor::End, (right - tail, base), number);
                    // A space at the start of words is not set by every reader: move the words instead.
                    let words = unit.trim_start();
                    if !words.is_empty() {
                        let gap = text::width(kind, &unit[..unit.len() - words.len()]);
                        draw.words(kind, Anchor::Start, (right - tail + gap, base), words);
                    }
                }
                (align, _) => {
                    let (anchor, x) = match align {
                        Align::Start => (Anchor::Start, left),
                        Align::Middle => (Anchor::Middle, f64::midpoint(left, right)),
                        Align::End | Align::Point => (Anchor::End, right),
                    };
                    let lines = text::wrap(kind, cell, room(column));
                    bottom = bottom.max(y + lines.len() as f64 * text::leading(kind));
                    for (n, line) in lines.into_iter().enumerate().filter(|(_, l)| !l.is_empty()) {
                        draw.words(kind, anchor, (x, base + n as f64 * text::leading(kind)), line);
                    }
                }
            }
            x += column.width;
        }
        bottom + 2.0 * AIR
    }
}

/// Width left for words.
fn room(column: &Column) -> f64 {
    (column.width - 2.0 * PAD).max(1.0)
}

/// A cell parted before its decimal point, or behind its number where it has none.
fn at_point(cell: &str) -> (&str, &str) {
    let number_like = |c: char| c.is_ascii_digit() || " \u{a0}\u{202f}-−+±".contains(c);
    let end = cell.find(|c: char| !number_like(c)).unwrap_or(cell.len());
    let end = cell[..end].trim_end().len();
    if end == 0 { (cell, "") } else { cell.split_at(end) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent;
    use crate::draw::sheet::Item;

    fn table() -> Table {
        let mut table = Table::new(vec![
            Column::new("Part", 40.0, Align::Start),
            Column::new("Long", 25.0, Align::Point),
            Column::new("", 10.0, Align::Middle),
        ]);
        table.part("Frame");
        for i in 0..30 {
            table.row([format!("Rail {i} with a name that needs two lines"), format!("{}.5 mm", i * 37), "✓".into()]);
        }
        table.total(["All", "1234.25 m", ""]);
        table
    }

    #[test]
    fn drawn_height_is_the_told_one_and_words_stay_inside() {
        let (table, mut items) = (table(), Vec::new());
        let bottom = table.draw(&mut items, (10.0, 20.0));
        assert!((bottom - 20.0 - table.height()).abs() < 1e-9, "{bottom} {}", table.height());
        let extent = extent::of(&items).expect("drawn");
        assert!(extent.x0 >= 10.0 && extent.x1 <= 10.0 + table.width() + 1e-9, "{extent:?}");
    }

    #[test]
    fn parts_fit_and_hold_every_row() {
        let parts = table().split(80.0);
        assert!(parts.len() > 2 && parts.iter().all(|p| p.height() <= 80.0));
        assert_eq!(parts.iter().map(|p| p.rows.len()).sum::<usize>(), 32);
    }

    #[test]
    fn decimal_points_stand_below_each_other() {
        let mut items = Vec::new();
        table().draw(&mut items, (0.0, 0.0));
        let mut ends = Vec::new();
        for item in &items {
            if let Item::Words { at, text, anchor: Anchor::Start, .. } = item
                && (text.starts_with(".5") || text.starts_with(".25"))
            {
                ends.push(at.x);
            }
        }
        assert_eq!(ends.len(), 31);
        assert!(ends.iter().all(|x| (x - ends[0]).abs() < 1e-9));
        assert_eq!(at_point("12 ± 3 mm"), ("12 ± 3", " mm"));
        assert_eq!(at_point("−4.5"), ("−4", ".5"));
        assert_eq!(at_point("none"), ("none", ""));
    }
}
