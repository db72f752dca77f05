//! Small pictures of what passes through the chain, drawn in a square of 20 by 20 and placed at any size. They name a thing
//! at a glance beside its words, never instead of them.

use kurbo::{Affine, BezPath, Point};

use crate::draw::sheet::{Draw, Fill, Line};

/// What a small picture shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Symbol {
    Boll,
    Fleece,
    Flax,
    /// Loose clean fibre.
    Lint,
    /// Carded fibre, rolled.
    Sliver,
    Bobbin,
    Cloth,
    Tee,
    Tote,
    Apron,
    Towel,
    Scarf,
    Pieces,
}

impl Symbol {
    /// Every symbol there is.
    pub const ALL: [Symbol; 13] = [
        Symbol::Boll,
        Symbol::Fleece,
        Symbol::Flax,
        Symbol::Lint,
        Symbol::Sliver,
        Symbol::Bobbin,
        Symbol::Cloth,
        Symbol::Tee,
        Symbol::Tote,
        Symbol::Apron,
        Symbol::Towel,
        Symbol::Scarf,
        Symbol::Pieces,
    ];

    /// Its filled outline, then the lines on it, as SVG path data in the square of 20.
    fn shapes(self) -> (&'static str, &'static str) {
        match self {
            Symbol::Boll => (
                "M10 16.4C7 17.4 2.6 15.6 3.4 11.2C.9 8.4 3.6 4 7 5.1C8 1.7 12 1.7 13 5.1C16.4 4 19.1 8.4 16.6 11.2C17.4 15.6 13 17.4 10 16.4Z",
                "M10 16.4C7.6 13.4 7.2 9.4 8.6 6.6M10 16.4C12.4 13.4 12.8 9.4 11.4 6.6M3.2 14.2C4.4 17.4 7.4 18 10 16.6C12.6 18 15.6 17.4 16.8 14.2M10 16.6V19.6",
            ),
            Symbol::Fleece => (
                "M4 8C1.6 5.2 5.6 1.8 8 4C9.8 1 14 1.9 14.2 5C18.2 4 19.2 9 16.2 10.2C19 12.2 17 16.2 14 15.2C12.8 18.4 8 18.2 7.8 15.2C4 17 1.8 13.2 4 12C1 11 1.6 8.2 4 8Z",
                "M6.6 9.6C7.2 7.4 9.6 8 9 9.6M11 8.2C11.8 6.2 14 7 13.2 8.6M7.4 13C8 11 10.4 11.6 9.8 13.2M12 12.6C12.6 10.8 14.8 11.4 14.2 13",
            ),
            Symbol::Flax => (
                "M10 1.4C12.6 1.4 12.6 5.2 10 5.2C7.4 5.2 7.4 1.4 10 1.4ZM4.4 2.4C6.6 2.4 6.6 5.6 4.4 5.6C2.2 5.6 2.2 2.4 4.4 2.4ZM15.6 2.4C17.8 2.4 17.8 5.6 15.6 5.6C13.4 5.6 13.4 2.4 15.6 2.4Z",
                "M10 19.6V5.2M10 19.6C9.4 14 6 11 4.8 5.6M10 19.6C10.6 14 14 11 15.2 5.6M10 12L12.4 9.8M10 14L7.4 12.4",
            ),
            Symbol::Lint => (
                "",
                "M2 5.4C5.6 2.4 8 8.4 12 5.4S17 4.4 18 5.4M2 9C5.6 6 8 12 12 9S17 8 18 9M2 12.6C5.6 9.6 8 15.6 12 12.6S17 11.6 18 12.6M2 16.2C5.6 13.2 8 19.2 12 16.2S17 15.2 18 16.2",
            ),
            Symbol::Sliver => (
                "M17.5 10.6A7.4 7.2 0 1 0 10 17.6L10 17.6H18.4V14.4H15.6C16.8 13.4 17.5 12 17.5 10.6Z",
                "M10 10.2C10 8.6 12.4 8.7 12.4 10.6C12.4 13.4 7.6 13.4 7.6 10C7.6 5.7 15 5.7 15 10.6C15 12.6 13.8 14.4 11.6 14.9",
            ),
            Symbol::Bobbin => (
                "M3.6 2.4H16.4V4.8H14.8C15.9 8 15.9 12 14.8 15.2H16.4V17.6H3.6V15.2H5.2C4.1 12 4.1 8 5.2 4.8H3.6Z",
                "M5.2 4.8H14.8M5.2 15.2H14.8M4.6 7.4L15.2 6M4.4 9.6L15.5 8.2M4.4 11.8L15.5 10.4M4.6 14L15.3 12.6",
            ),
            Symbol::Cloth => (
                "M3 3H17V16H3Z",
                "M5.8 3V19M8.6 3V19M11.4 3V19M14.2 3V19M3 3V19M17 3V19M3 5.6H17M3 8.2H17M3 10.8H17M3 13.4H17",
            ),
            Symbol::Tee => (
                "M7 2.6C8 4.8 12 4.8 13 2.6L15.6 3.4L19.2 8.4L16 10.4L14.6 8.8V18H5.4V8.8L4 10.4L.8 8.4L4.4 3.4Z",
                "M5.4 17H14.6M14.6 8.8L14.4 6.2M5.4 8.8L5.6 6.2M1.6 7.4L4.6 9.6M18.4 7.4L15.4 9.6",
            ),
            Symbol::Tote => ("M3.6 7H16.4L17.4 18.6H2.6Z", "M7 9.6V6.4C7 1.4 13 1.4 13 6.4V9.6M3.4 8.6H16.6"),
            Symbol::Apron => (
                "M7 3.2H13L13.6 8C14 9.4 15.4 9.8 17 9.8V18.6H3V9.8C4.6 9.8 6 9.4 6.4 8Z",
                "M7 3.2C7 .4 13 .4 13 3.2M3 10.4L.8 12.4M17 10.4L19.2 12.4M6.6 12.6H13.4V16H6.6Z",
            ),
            Symbol::Towel => (
                "M4 2.4H16V16.4H4Z",
                "M4 5H16M4 6.4H16M4 12.4H16M4 13.8H16M4 16.4V18.8M6.4 16.4V18.8M8.8 16.4V18.8M11.2 16.4V18.8M13.6 16.4V18.8M16 16.4V18.8",
            ),
            Symbol::Scarf => (
                "M6.4 1.6H13.6V15.6H6.4Z",
                "M6.4 4H13.6M6.4 8.6H13.6M6.4 13.2H13.6M6.4 15.6V19M8.2 15.6V19M10 15.6V19M11.8 15.6V19M13.6 15.6V19",
            ),
            Symbol::Pieces => {
                ("M2.4 3H11V17H2.4ZM13 3H17.6V9.4H13ZM13 11.4H17.6V17H13Z", "M6.7 5.4V14.6M15.3 4.6V7.8M15.3 13V15.6")
            }
        }
    }
}

/// Draws a symbol with its middle at `centre`, `side` millimetres wide, filled with `fill`.
pub fn symbol(draw: &mut impl Draw, which: Symbol, fill: Fill, centre: impl Into<Point>, side: f64) {
    let (outline, lines) = which.shapes();
    let place =
        Affine::translate(centre.into().to_vec2()) * Affine::scale(side / 20.0) * Affine::translate((-10.0, -10.0));
    let path = |data: &str| place * BezPath::from_svg(data).expect("the symbols' own path data is sound");
    if !outline.is_empty() {
        draw.area(fill, Some(Line::Axis), path(outline));
    }
    draw.path(Line::Axis, path(lines));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent;

    #[test]
    fn every_symbol_fits_its_square() {
        for which in Symbol::ALL {
            let mut items = Vec::new();
            symbol(&mut items, which, Fill::Cloth, (50.0, 40.0), 10.0);
            let extent = extent::of(&items).expect("drawn");
            assert!(
                extent.x0 >= 45.0 && extent.x1 <= 55.0 && extent.y0 >= 35.0 && extent.y1 <= 45.0,
                "{which:?} {extent:?}"
            );
            assert!(extent.width().max(extent.height()) > 7.5, "{which:?} fills its square");
        }
    }
}
