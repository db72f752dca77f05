//! What an exporter will not do, and the limits that keep its time and memory bounded. Every exporter asks [`check`] first.

use std::fmt;

use crate::draw::extent::{Seen, walk};
use crate::draw::sheet::Sheet;

/// Longest side of a sheet in millimetres. A cloth on the loom is a few metres long; beyond this is a slip of a unit.
pub const LONGEST: f64 = 30_000.0;
/// Longest side of a PDF page: 14 400 points (ISO 32000-1, annex C, table C.1).
pub const LONGEST_PAGE: f64 = 14_400.0 / 72.0 * 25.4;
/// Most path elements and words on a sheet.
pub const MOST_ELEMENTS: usize = 2_000_000;
/// Most pixels of a PNG.
pub const MOST_PIXELS: f64 = 64e6;
/// Most pages of a document.
pub const MOST_PAGES: usize = 400;

/// Why a drawing was not exported.
#[derive(Clone, Debug, PartialEq)]
pub enum Refused {
    /// A side is not a length above zero, or longer than `most` millimetres.
    Size { width: f64, height: f64, most: f64 },
    /// A coordinate that is not a finite number, or far off the sheet.
    Coordinate,
    /// More elements than [`MOST_ELEMENTS`].
    Elements(usize),
    /// More pixels than [`MOST_PIXELS`].
    Pixels { width: f64, height: f64 },
    /// More pages than [`MOST_PAGES`].
    Pages(usize),
    /// A setting out of its range: what it is, what was given, what is accepted.
    Setting { what: &'static str, given: f64, accepted: &'static str },
    /// The format's own writer gave up, with its words.
    Writer(String),
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Refused::Size { width, height, most } => {
                write!(
                    f,
                    "the sheet is {width:.0} mm by {height:.0} mm; each side must be above 0 and at most {most:.0} mm"
                )
            }
            Refused::Coordinate => write!(f, "the drawing has a point that is nowhere near the sheet"),
            Refused::Elements(n) => write!(f, "the drawing has {n} elements; at most {MOST_ELEMENTS} are exported"),
            Refused::Pixels { width, height } => {
                let most = MOST_PIXELS / 1e6;
                write!(
                    f,
                    "the picture would be {width:.0} by {height:.0} pixels; at most {most:.0} million: choose fewer dots an inch"
                )
            }
            Refused::Pages(n) => write!(f, "the drawing needs {n} pages; at most {MOST_PAGES} are made"),
            Refused::Setting { what, given, accepted } => write!(f, "{what} is {given}; accepted is {accepted}"),
            Refused::Writer(words) => write!(f, "the drawing could not be written: {words}"),
        }
    }
}

impl std::error::Error for Refused {}

/// Looks a sheet over before it is exported.
///
/// # Errors
/// [`Refused::Size`], [`Refused::Coordinate`] or [`Refused::Elements`].
pub fn check(sheet: &Sheet) -> Result<(), Refused> {
    side_check(sheet, LONGEST)?;
    let mut elements = 0usize;
    let mut near = true;
    let far = 2.0 * LONGEST;
    walk(&sheet.items, &mut |seen| match seen {
        Seen::Path { path, .. } => {
            elements = elements.saturating_add(path.elements().len());
            near &= path.elements().iter().filter_map(|e| e.end_point()).all(|p| p.x.abs() < far && p.y.abs() < far)
                && path.is_finite();
        }
        Seen::Words { at, text, turn, .. } => {
            elements = elements.saturating_add(1 + text.len() / 16);
            near &= at.x.abs() < far && at.y.abs() < far && turn.is_finite();
        }
        Seen::Picture { at, place, png, .. } => {
            elements = elements.saturating_add(png.len() / 64);
            near &= at.is_finite() && place.is_finite();
        }
        Seen::Open { .. } => elements = elements.saturating_add(1),
        Seen::Close => {}
    });
    if !near {
        return Err(Refused::Coordinate);
    }
    if elements > MOST_ELEMENTS { Err(Refused::Elements(elements)) } else { Ok(()) }
}

/// Whether both sides are lengths up to `most`.
pub(in crate::draw) fn side_check(sheet: &Sheet, most: f64) -> Result<(), Refused> {
    let (width, height) = (sheet.width, sheet.height);
    let fits = |side: f64| side > 0.0 && side <= most;
    if fits(width) && fits(height) { Ok(()) } else { Err(Refused::Size { width, height, most }) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sheet::{Anchor, Draw, Line, Type};

    #[test]
    fn absurd_sheets_are_refused_in_words() {
        for (w, h) in [(0.0, 10.0), (10.0, -1.0), (f64::NAN, 10.0), (f64::INFINITY, 1.0), (1e9, 10.0)] {
            let refused = check(&Sheet::new("a", "", "", w, h)).expect_err("absurd");
            assert!(refused.to_string().contains("each side"), "{refused}");
        }
        let mut sheet = Sheet::new("a", "", "", 10.0, 10.0);
        assert_eq!(check(&sheet), Ok(()));
        sheet.line(Line::Cut, (0.0, 0.0), (f64::NAN, 1.0));
        assert_eq!(check(&sheet), Err(Refused::Coordinate));
        let mut sheet = Sheet::new("a", "", "", 10.0, 10.0);
        sheet.words(Type::Body, Anchor::Start, (1e9, 0.0), "far");
        assert_eq!(check(&sheet), Err(Refused::Coordinate));
    }
}
