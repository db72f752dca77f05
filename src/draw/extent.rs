//! How far drawn things reach, words included, and a walk over a display list in which every placement is already worked
//! out. Exporters and tests use the walk; composers use the extent to crop a sheet to what is on it.

use kurbo::{Affine, BezPath, Point, Rect, Shape, Vec2};

use crate::draw::sheet::{Anchor, Fill, Item, Line, Sheet, Type};
use crate::draw::text;

/// One thing on the sheet, in the sheet's own millimetres.
pub enum Seen<'a> {
    /// A group begins; `title` is what it says of itself.
    Open {
        name: &'a str,
        title: Option<&'a str>,
    },
    /// The group last opened ends.
    Close,
    Path {
        path: BezPath,
        line: Option<Line>,
        fill: Option<Fill>,
    },
    Words {
        at: Point,
        text: &'a str,
        kind: Type,
        anchor: Anchor,
        turn: f64,
    },
    Picture {
        at: Rect,
        place: Affine,
        png: &'a [u8],
        describe: &'a str,
    },
}

/// Calls `see` on every item, groups opened and closed in order, all coordinates in the sheet's millimetres.
pub fn walk<'a>(items: &'a [Item], see: &mut impl FnMut(Seen<'a>)) {
    placed(items, Affine::IDENTITY, see);
}

fn placed<'a>(items: &'a [Item], outer: Affine, see: &mut impl FnMut(Seen<'a>)) {
    for item in items {
        match item {
            Item::Path { path, line, fill } => {
                let path = if outer == Affine::IDENTITY { path.clone() } else { outer * path };
                see(Seen::Path { path, line: *line, fill: *fill });
            }
            Item::Words { at, text, kind, anchor, turn } => {
                let (turn, anchor) = (*turn + readable_turn(outer), readable_anchor(outer, *anchor));
                see(Seen::Words { at: outer * *at, text, kind: *kind, anchor, turn });
            }
            Item::Picture { at, png, describe } => see(Seen::Picture { at: *at, place: outer, png, describe }),
            Item::Group { name, title, place, items } => {
                see(Seen::Open { name, title: title.as_deref() });
                placed(items, outer * *place, see);
                see(Seen::Close);
            }
        }
    }
}

/// By how many degrees clockwise words turn under `place`; a mirror turns nothing, since words must stay readable.
fn readable_turn(place: Affine) -> f64 {
    let [a, b, ..] = place.as_coeffs();
    if place.determinant() < 0.0 || (b == 0.0 && a >= 0.0) { 0.0 } else { libm::atan2(b, a).to_degrees() }
}

/// Words beside a mirrored thing stand on its other side.
fn readable_anchor(place: Affine, anchor: Anchor) -> Anchor {
    let mirrored = place.determinant() < 0.0 && place.as_coeffs()[0] < 0.0;
    match (mirrored, anchor) {
        (true, Anchor::Start) => Anchor::End,
        (true, Anchor::End) => Anchor::Start,
        _ => anchor,
    }
}

/// The rectangle that a line of words covers, turned words by the rectangle round them.
pub fn of_words(at: Point, words: &str, kind: Type, anchor: Anchor, turn: f64) -> Rect {
    let wide = text::width(kind, words);
    let left = match anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -wide / 2.0,
        Anchor::End => -wide,
    };
    let flat = Rect::new(left, -text::CAPITAL * kind.size(), left + wide, text::DESCENT * kind.size());
    let turned = if turn == 0.0 { flat } else { rotation(turn).transform_rect_bbox(flat) };
    turned + at.to_vec2()
}

/// A turn by `degrees` clockwise on the sheet.
pub fn rotation(degrees: f64) -> Affine {
    let (s, c) = libm::sincos(degrees.to_radians());
    Affine::new([c, s, -s, c, 0.0, 0.0])
}

/// One millimetre in a direction: degrees clockwise from rightwards.
pub fn direction(degrees: f64) -> Vec2 {
    let (s, c) = libm::sincos(degrees.to_radians());
    Vec2::new(c, s)
}

/// The rectangle that all `items` cover, without line weights; `None` when there is nothing.
pub fn of(items: &[Item]) -> Option<Rect> {
    let mut all: Option<Rect> = None;
    walk(items, &mut |seen| {
        let one = match seen {
            Seen::Path { path, .. } if !path.elements().is_empty() => path.bounding_box(),
            Seen::Words { at, text, kind, anchor, turn } => of_words(at, text, kind, anchor, turn),
            Seen::Picture { at, place, .. } => place.transform_rect_bbox(at),
            _ => return,
        };
        all = Some(all.map_or(one, |a| a.union(one)));
    });
    all
}

/// The sheet made as large as what is on it and a margin of `margin` millimetres on all sides; an empty sheet is left alone.
pub fn fitted(mut sheet: Sheet, margin: f64) -> Sheet {
    let Some(extent) = of(&sheet.items) else { return sheet };
    shift(&mut sheet.items, Vec2::new(margin - extent.x0, margin - extent.y0));
    sheet.width = extent.width() + 2.0 * margin;
    sheet.height = extent.height() + 2.0 * margin;
    sheet
}

/// Moves items by `by`, without wrapping them into a group.
pub fn shift(items: &mut [Item], by: Vec2) {
    let place_by = Affine::translate(by);
    for item in items {
        match item {
            Item::Path { path, .. } => path.apply_affine(place_by),
            Item::Words { at, .. } => *at += by,
            Item::Picture { at, .. } => *at = *at + by,
            Item::Group { place, .. } => *place = place_by * *place,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sheet::Draw;

    fn sample() -> Sheet {
        let mut sheet = Sheet::new("t", "T", "", 10.0, 10.0);
        sheet.group("half", None, Affine::translate((5.0, 5.0)) * Affine::scale(0.5), |g| {
            g.line(Line::Outline, (0.0, 0.0), (10.0, 20.0));
            g.words(Type::Body, Anchor::Start, (0.0, 0.0), "x");
        });
        sheet
    }

    #[test]
    fn places_are_worked_out_but_words_keep_their_size() {
        let mut seen_line = None;
        walk(&sample().items, &mut |seen| {
            if let Seen::Path { path, .. } = seen {
                seen_line = Some(path.bounding_box());
            }
        });
        assert_eq!(seen_line, Some(Rect::new(5.0, 5.0, 10.0, 15.0)));
        let extent = of(&sample().items).expect("there is something");
        assert!((extent.y0 - (5.0 - 0.729 * 3.4)).abs() < 1e-9, "{extent:?}");
    }

    #[test]
    fn a_fitted_sheet_has_its_margin() {
        let sheet = fitted(sample(), 4.0);
        let extent = of(&sheet.items).expect("there is something");
        assert!((extent.x0 - 4.0).abs() < 1e-9 && (extent.y0 - 4.0).abs() < 1e-9);
        assert!((extent.x1 + 4.0 - sheet.width).abs() < 1e-9 && (extent.y1 + 4.0 - sheet.height).abs() < 1e-9);
        assert_eq!(fitted(Sheet::new("e", "", "", 7.0, 8.0), 3.0).width, 7.0);
    }

    #[test]
    fn mirrored_words_stay_readable_and_turned_ones_turn() {
        let turn_of = |place: Affine| {
            let mut turn = f64::NAN;
            let mut items = Vec::new();
            items.group("g", None, place, |g| g.words(Type::Body, Anchor::Start, (1.0, 1.0), "x"));
            walk(&items, &mut |seen| {
                if let Seen::Words { turn: t, .. } = seen {
                    turn = t;
                }
            });
            turn
        };
        assert_eq!(turn_of(Affine::FLIP_X), 0.0);
        assert!((turn_of(rotation(90.0)) - 90.0).abs() < 1e-9);
        assert!((turn_of(rotation(-30.0)) + 30.0).abs() < 1e-9);
    }
}
