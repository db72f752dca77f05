//! What every sheet has: its name and a sentence at the top, and at the foot who made it and at what scale. So that sheets
//! made in different places look like one set.

use crate::draw::sheet::{Anchor, Draw, Line, Point, Sheet, Type};
use crate::draw::style::stroke;
use crate::draw::text;

/// Free room along the edges of a sheet.
pub const MARGIN: f64 = 10.0;
/// Height that [`foot`] takes above the bottom margin.
pub const FOOT: f64 = 8.0;

/// Paper that home printers take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm (ISO 216).
    A4,
    /// 8.5 by 11 inches.
    Letter,
}

impl Paper {
    /// Width and height in millimetres, upright.
    pub fn size(self) -> (f64, f64) {
        match self {
            Paper::A4 => (210.0, 297.0),
            Paper::Letter => (215.9, 279.4),
        }
    }

    /// What a person calls it.
    pub fn says(self) -> &'static str {
        match self {
            Paper::A4 => "A4",
            Paper::Letter => "Letter",
        }
    }
}

/// Writes the sheet's title and, below it, `lead` (may be empty) across its width; gives the y where the drawing may start.
pub fn head(sheet: &mut Sheet, lead: &str) -> f64 {
    let wide = sheet.width - 2.0 * MARGIN;
    let title = sheet.title.clone();
    let mut y = text::paragraph(sheet, Type::Title, (MARGIN, MARGIN - 1.2), wide, &title);
    if !lead.is_empty() {
        y = text::paragraph(sheet, Type::Body, (MARGIN, y), wide, lead);
    }
    y += 1.4;
    sheet.line(Line::Outline, (MARGIN, y), (sheet.width - MARGIN, y));
    y + 5.0
}

/// Writes the foot: a hairline, the program's and the sheet's name, `note` in the middle and the scale at the right.
pub fn foot(sheet: &mut Sheet, note: &str) {
    let (y, right) = (sheet.height - MARGIN - 3.6, sheet.width - MARGIN);
    let (left_words, scale) = (format!("Clothwright · {}", sheet.name), scale_words(sheet.scale));
    sheet.line(Line::Dimension, (MARGIN, y), (right, y));
    let base = text::base(Type::Note, y + 0.8);
    let used = text::width(Type::Note, &left_words).max(text::width(Type::Note, &scale));
    let note = text::shortened(Type::Note, note, (right - MARGIN - 2.0 * used - 6.0).max(0.0));
    sheet.words(Type::Note, Anchor::Start, (MARGIN, base), left_words);
    sheet.words(Type::Note, Anchor::End, (right, base), scale);
    if note.chars().count() > 1 {
        sheet.words(Type::Note, Anchor::Middle, (sheet.width / 2.0, base), note);
    }
}

/// What kinds of line mean, as short samples with their words, in `columns` columns below `top_left`; gives the y below.
pub fn legend(draw: &mut impl Draw, top_left: impl Into<Point>, lines: &[Line], columns: usize) -> f64 {
    let (at, columns) = (top_left.into(), columns.max(1));
    let words = |line: &Line| text::width(Type::Small, stroke(*line).says);
    let wide = lines.iter().map(words).fold(0.0, f64::max) + 21.0;
    let (rows, high) = (lines.len().div_ceil(columns), text::leading(Type::Small) * 1.2);
    for (i, line) in lines.iter().enumerate() {
        let (x, top) = (at.x + (i / rows) as f64 * wide, at.y + (i % rows) as f64 * high);
        draw.line(*line, (x, top + high / 2.0), (x + 14.0, top + high / 2.0));
        let base = top + high / 2.0 + Type::Small.size() * text::CAPITAL / 2.0;
        draw.words(Type::Small, Anchor::Start, (x + 16.5, base), stroke(*line).says);
    }
    at.y + rows as f64 * high
}

/// A scale as a drawing says it: "full size", "1 : 10", "5 : 1", "not to scale".
pub fn scale_words(scale: Option<f64>) -> String {
    match scale {
        None => "not to scale".to_string(),
        Some(s) if (s - 1.0).abs() < 1e-9 => "full size, all lengths in mm".to_string(),
        Some(s) if s < 1.0 => format!("scale 1 : {}", super::svg::number((1.0 / s * 100.0).round() / 100.0)),
        Some(s) => format!("scale {} : 1", super::svg::number((s * 100.0).round() / 100.0)),
    }
}

/// An empty sheet of that paper, upright.
pub fn page(paper: Paper, name: &str, title: &str, describe: &str) -> Sheet {
    let (width, height) = paper.size();
    Sheet::new(name, title, describe, width, height)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent;

    #[test]
    fn head_and_foot_keep_their_margins() {
        for paper in [Paper::A4, Paper::Letter] {
            let mut sheet = page(paper, "loom", "The loom from the front and from the side", "");
            let y =
                head(&mut sheet, "All lengths in millimetres. Cut the parts by the cutting list, not by this drawing.");
            foot(
                &mut sheet,
                "a very long note that cannot possibly be set in the room that is left between the others",
            );
            let e = extent::of(&sheet.items).expect("drawn");
            assert!(e.x0 >= MARGIN - 0.01 && e.x1 <= sheet.width - MARGIN + 0.01 && e.y0 >= MARGIN - 0.5, "{e:?}");
            assert!(e.y1 <= sheet.height - MARGIN + 1.0 && y < 45.0, "{e:?} {y}");
        }
    }

    #[test]
    fn scales_are_said_as_drawings_say_them() {
        assert_eq!(scale_words(Some(0.1)), "scale 1 : 10");
        assert_eq!(scale_words(Some(0.4)), "scale 1 : 2.5");
        assert_eq!(scale_words(Some(5.0)), "scale 5 : 1");
        assert_eq!(scale_words(None), "not to scale");
    }
}
