//! Symbols of circuit diagrams in the style of IEC 60617, standing upright: current comes in at the top and leaves at the bottom.
//! Each takes the point of its upper pin and gives the point of its lower one.

use kurbo::{Arc, Point, Rect, Shape, Vec2};

use crate::draw::sheet::{Anchor, Draw, Fill, Line, Type};

/// Height of a contact, coil, fuse.
pub(super) const TALL: f64 = 14.0;

/// How a contact is moved.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum By {
    /// A relay: a plain dashed line to the left is left out, the mark says which.
    Relay,
    /// A relay slow to drop.
    SlowRelay,
    Push,
    /// Mushroom head that latches.
    Stop,
    Pedal,
    /// Turned, stays.
    Turn,
}

/// A wire.
pub(super) fn wire(d: &mut impl Draw, points: &[Point]) {
    d.trace(Line::Detail, points.iter().copied());
}
/// A wire that carries the motor's current.
pub(super) fn thick(d: &mut impl Draw, points: &[Point]) {
    d.trace(Line::Outline, points.iter().copied());
}
/// Wires joined.
pub(super) fn node(d: &mut impl Draw, at: Point) {
    d.spot(Fill::Ink, at, 0.7);
}
/// A wire's number.
pub(super) fn number(d: &mut impl Draw, at: Point, name: &str) {
    d.words(Type::Figure, Anchor::Start, (at.x + 0.8, at.y - 0.7), name);
}
/// A part's mark, left of it.
pub(super) fn mark(d: &mut impl Draw, at: Point, left: f64, word: &str) {
    d.words(Type::Strong, Anchor::End, (at.x - left, at.y + TALL / 2.0 + 1.2), word);
}

fn down(p: Point, by: f64) -> Point {
    p + Vec2::new(0.0, by)
}

/// A make contact.
pub(super) fn make(d: &mut impl Draw, at: Point, by: By) -> Point {
    let end = down(at, TALL);
    d.line(Line::Outline, at, down(at, 4.0));
    d.line(Line::Outline, down(at, 10.0), end);
    d.line(Line::Outline, down(at, 10.0), at + Vec2::new(-3.2, 4.2));
    actuator(d, at + Vec2::new(-1.6, 7.1), by);
    end
}

/// A break contact.
pub(super) fn breaks(d: &mut impl Draw, at: Point, by: By) -> Point {
    let end = down(at, TALL);
    d.trace(Line::Outline, [at, down(at, 4.2), at + Vec2::new(2.9, 4.2)]);
    d.line(Line::Outline, down(at, 10.0), end);
    d.line(Line::Outline, down(at, 10.0), at + Vec2::new(2.3, 3.2));
    actuator(d, at + Vec2::new(1.1, 6.9), by);
    end
}

/// A change-over contact seen with its common pin below: `at` is above the common; gives (moved pin, rest pin) at the top and the
/// common at the bottom.
pub(super) fn over(d: &mut impl Draw, at: Point, by: By) -> (Point, Point, Point) {
    let (moved, rest) = (at + Vec2::new(-5.0, 0.0), at + Vec2::new(5.0, 0.0));
    d.trace(Line::Outline, [moved, down(moved, 4.2), moved + Vec2::new(1.8, 4.2)]);
    d.trace(Line::Outline, [rest, down(rest, 4.2), rest + Vec2::new(-3.2, 4.2)]);
    let end = down(at, TALL);
    d.line(Line::Outline, down(at, 10.5), end);
    d.line(Line::Outline, down(at, 10.5), at + Vec2::new(2.6, 3.2));
    actuator(d, at + Vec2::new(1.2, 7.1), by);
    (moved, rest, end)
}

fn actuator(d: &mut impl Draw, from: Point, by: By) {
    let reach = 8.0;
    let end = from - Vec2::new(reach, 0.0);
    match by {
        By::Relay => return,
        By::SlowRelay => {
            // The parachute: an arc that brakes the way back.
            d.line(Line::Hidden, from, from - Vec2::new(4.0, 0.0));
            let arc = Arc::new(from - Vec2::new(6.2, 0.0), (2.2, 2.2), -1.1, 2.2, 0.0);
            d.path(Line::Detail, arc.to_path(0.01));
            return;
        }
        _ => d.line(Line::Hidden, from, end),
    }
    match by {
        By::Push => d.trace(
            Line::Detail,
            [
                end + Vec2::new(1.4, -1.8),
                end + Vec2::new(0.0, -1.8),
                end + Vec2::new(0.0, 1.8),
                end + Vec2::new(1.4, 1.8),
            ],
        ),
        By::Stop => {
            let head = Arc::new(end, (1.6, 2.6), std::f64::consts::FRAC_PI_2, std::f64::consts::PI, 0.0);
            let mut path = head.to_path(0.01);
            path.close_path();
            d.path(Line::Outline, path);
            latch(d, from - Vec2::new(reach * 0.45, 0.0));
        }
        By::Pedal => d.trace(
            Line::Detail,
            [
                end + Vec2::new(-1.6, -2.0),
                end + Vec2::new(0.6, 0.0),
                end + Vec2::new(1.6, 2.0),
                end + Vec2::new(-0.6, 2.0),
            ],
        ),
        By::Turn => {
            d.trace(
                Line::Detail,
                [
                    end + Vec2::new(-1.4, -2.0),
                    end + Vec2::new(0.0, -2.0),
                    end + Vec2::new(0.0, 2.0),
                    end + Vec2::new(1.4, 2.0),
                ],
            );
            latch(d, from - Vec2::new(reach * 0.45, 0.0));
        }
        By::Relay | By::SlowRelay => {}
    }
}

/// The notch of what stays where it was put.
fn latch(d: &mut impl Draw, at: Point) {
    d.polygon(
        Fill::Paper,
        Some(Line::Detail),
        [at + Vec2::new(-1.2, 0.0), at + Vec2::new(1.2, 0.0), at + Vec2::new(0.0, 1.8)],
    );
}

/// A relay's coil; `slow` where it is slow to drop.
pub(super) fn coil(d: &mut impl Draw, at: Point, slow: bool) -> Point {
    let body = Rect::new(at.x - 5.0, at.y + 4.0, at.x + 5.0, at.y + 10.0);
    d.line(Line::Outline, at, down(at, 4.0));
    d.line(Line::Outline, down(at, 10.0), down(at, TALL));
    d.area(Fill::Paper, Some(Line::Outline), body.to_path(0.1));
    if slow {
        d.area(Fill::Ink, None, Rect::new(body.x0, body.y0, body.x0 + 2.4, body.y1).to_path(0.1));
    }
    down(at, TALL)
}

/// A fuse.
pub(super) fn fuse(d: &mut impl Draw, at: Point) -> Point {
    d.rect(Line::Outline, Rect::new(at.x - 1.9, at.y + 3.2, at.x + 1.9, at.y + 10.8));
    d.line(Line::Outline, at, down(at, TALL));
    down(at, TALL)
}

/// A diode whose cathode is at the top.
pub(super) fn diode_up(d: &mut impl Draw, at: Point) -> Point {
    d.line(Line::Detail, at, down(at, TALL));
    let (top, low) = (down(at, 5.2), down(at, 9.0));
    d.polygon(Fill::Ink, Some(Line::Detail), [top, low + Vec2::new(-2.1, 0.0), low + Vec2::new(2.1, 0.0)]);
    d.line(Line::Outline, top - Vec2::new(2.1, 0.0), top + Vec2::new(2.1, 0.0));
    down(at, TALL)
}

/// A capacitor lying: from `at` to the right by `wide`.
pub(super) fn capacitor_level(d: &mut impl Draw, at: Point, wide: f64) {
    let middle = at + Vec2::new(wide / 2.0, 0.0);
    for (end, plate) in [(at, -0.7), (at + Vec2::new(wide, 0.0), 0.7)] {
        let plate = middle + Vec2::new(plate, 0.0);
        d.line(Line::Detail, end, plate);
        d.line(Line::Outline, plate - Vec2::new(0.0, 2.2), plate + Vec2::new(0.0, 2.2));
    }
}

/// The motor, its middle at `at`; pins left and right.
pub(super) fn motor(d: &mut impl Draw, at: Point) -> (Point, Point) {
    d.area(Fill::Paper, Some(Line::Outline), kurbo::Circle::new(at, 6.0).to_path(0.01));
    d.words(Type::Heading, Anchor::Middle, (at.x, at.y + 0.8), "M");
    d.line(Line::Detail, at + Vec2::new(-2.0, 2.6), at + Vec2::new(2.0, 2.6));
    (at - Vec2::new(6.0, 0.0), at + Vec2::new(6.0, 0.0))
}

/// Bonding: the earth mark hung on `at`.
pub(super) fn earth(d: &mut impl Draw, at: Point) {
    d.line(Line::Detail, at, down(at, 4.0));
    for (i, half) in [3.0, 2.0, 1.0].into_iter().enumerate() {
        let y = 4.0 + 1.3 * i as f64;
        d.line(Line::Outline, at + Vec2::new(-half, y), at + Vec2::new(half, y));
    }
}

/// A box with words, for a bought thing.
pub(super) fn block(d: &mut impl Draw, rect: Rect, words: &[&str]) {
    d.area(Fill::OtherPart, Some(Line::Outline), rect.to_path(0.1));
    let top = rect.center().y - (words.len() as f64 - 1.0) * 1.9 + 1.0;
    for (i, line) in words.iter().enumerate() {
        d.words(Type::Small, Anchor::Middle, (rect.center().x, top + 3.8 * i as f64), *line);
    }
}
