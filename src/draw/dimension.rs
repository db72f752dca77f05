//! What a workshop drawing says with lines: measures with arrows, angles, leaders, part marks, scale bars, direction arrows and
//! hatching. The words are the caller's (in the maker's units); this module only places them. Millimetres on the paper, y down.

use kurbo::{Affine, Arc, BezPath, Point, Rect, Shape, Vec2};

use crate::draw::extent::{direction, rotation};
use crate::draw::sheet::{Anchor, Draw, Fill, Line, Type, through};
use crate::draw::style::stroke;
use crate::draw::text;

/// Length of an arrow head.
const HEAD: f64 = 2.4;
/// Half the width of an arrow head.
const HALF: f64 = 0.42;
/// Room between a thing and the line that starts at it.
const GAP: f64 = 0.8;
/// How far an extension line runs past the measure line.
const PAST: f64 = 1.4;
/// Room between a measure line and its words.
const OVER: f64 = 0.9;
/// Flattening tolerance where a shape is hatched.
const FLAT: f64 = 0.02;

/// A unit vector, or rightwards for a vector of no length.
fn unit(v: Vec2) -> Vec2 {
    let length = v.hypot();
    if length > 1e-9 { v / length } else { Vec2::new(1.0, 0.0) }
}

/// The right hand of someone who walks along `along` (y is down).
fn right_hand(along: Vec2) -> Vec2 {
    Vec2::new(-along.y, along.x)
}

/// A slim filled arrow head whose tip is `tip` and which points along `along`.
pub fn arrow_head(draw: &mut impl Draw, fill: Fill, tip: Point, along: Vec2) {
    head(draw, fill, tip, along, (HEAD, HALF));
}

/// An arrow head as long and half as wide as `(long, half)` says, hollow at its back.
fn head(draw: &mut impl Draw, fill: Fill, tip: Point, along: Vec2, (long, half): (f64, f64)) {
    let (back, side) = (unit(along) * -long, right_hand(unit(along)) * half);
    draw.polygon(fill, None, [tip, tip + back + side, tip + back * 0.82, tip + back - side]);
}

/// An arrow head that is large enough to be seen at the end of such a line: its tip is `tip`.
fn head_for(draw: &mut impl Draw, line: Line, tip: Point, along: Vec2) -> f64 {
    let weight = stroke(line).weight;
    let size = (HEAD + 2.0 * weight, HALF + 1.2 * weight);
    head(draw, head_of(line), tip, along, size);
    size.0
}

/// The measure from `from` to `to`, its line `offset` away on the right hand of someone walking from one to the other (a
/// negative offset: on the left), with extension lines back to the two points.
pub fn aligned(draw: &mut impl Draw, from: impl Into<Point>, to: impl Into<Point>, offset: f64, words: &str) {
    let (from, to) = (from.into(), to.into());
    let away = right_hand(unit(to - from)) * offset;
    measure(draw, from, to, from + away, to + away, words);
}

/// The horizontal part of the way between two points, measured on a line at height `y`.
pub fn horizontal(draw: &mut impl Draw, from: impl Into<Point>, to: impl Into<Point>, y: f64, words: &str) {
    let (from, to) = (from.into(), to.into());
    measure(draw, from, to, Point::new(from.x, y), Point::new(to.x, y), words);
}

/// The vertical part of the way between two points, measured on a line at `x`.
pub fn vertical(draw: &mut impl Draw, from: impl Into<Point>, to: impl Into<Point>, x: f64, words: &str) {
    let (from, to) = (from.into(), to.into());
    measure(draw, from, to, Point::new(x, from.y), Point::new(x, to.y), words);
}

/// A row of measures along a horizontal line at `y`: one between each pair of neighbours in `stops` (x and the height at which
/// the thing is met), named by `words` (one fewer than stops).
pub fn chain(draw: &mut impl Draw, stops: &[Point], y: f64, words: &[String]) {
    for (n, (pair, words)) in stops.windows(2).zip(words).enumerate() {
        // words that do not fit stand beyond the end: of the first measure to the left, clear of the next one's
        let outside = pair[1].x - pair[0].x < text::width(Type::Figure, words) + 2.0;
        let (from, to) = if n == 0 && outside { (pair[1], pair[0]) } else { (pair[0], pair[1]) };
        horizontal(draw, from, to, y, words);
    }
}

/// Extension lines from `from` and `to` to the measure line `a`–`b`, its arrows and words.
fn measure(draw: &mut impl Draw, from: Point, to: Point, a: Point, b: Point, words: &str) {
    for (near, far) in [(from, a), (to, b)] {
        if (far - near).hypot() > GAP {
            let away = unit(far - near);
            draw.line(Line::Dimension, near + away * GAP, far + away * PAST);
        }
    }
    let (along, length) = (unit(b - a), (b - a).hypot());
    let wide = text::width(Type::Figure, words);
    let arrows_inside = length >= 2.5 * HEAD;
    let words_inside = length >= wide + if arrows_inside { 2.0 } else { 0.6 };
    let turn = upright_turn(along);
    let over = direction(turn - 90.0) * OVER;
    if arrows_inside {
        draw.line(Line::Dimension, a, b);
        arrow_head(draw, Fill::Quiet, a, -along);
        arrow_head(draw, Fill::Quiet, b, along);
    } else {
        let tail = if words_inside { HEAD * 1.8 } else { HEAD * 1.8 + wide + 1.0 };
        draw.line(Line::Dimension, a - along * HEAD * 1.8, b + along * tail);
        arrow_head(draw, Fill::Quiet, a, along);
        arrow_head(draw, Fill::Quiet, b, -along);
    }
    if words_inside {
        draw.words_turned(Type::Figure, Anchor::Middle, a.midpoint(b) + over, turn, words);
    } else {
        let start = b + along * if arrows_inside { 1.2 } else { HEAD * 1.8 + 0.6 };
        let reading = direction(turn);
        let anchor = if reading.dot(along) >= 0.0 { Anchor::Start } else { Anchor::End };
        draw.words_turned(Type::Figure, anchor, start + over, turn, words);
    }
}

/// The turn in degrees at which words along `along` are read from below or from the right.
fn upright_turn(along: Vec2) -> f64 {
    let mut turn = libm::atan2(along.y, along.x).to_degrees();
    if turn >= 89.99 {
        turn -= 180.0;
    } else if turn < -90.01 {
        turn += 180.0;
    }
    turn
}

/// The angle at `apex` from the direction `start` to the direction `end` (degrees clockwise from rightwards), as an arc of
/// `radius` with arrows and words.
pub fn angle(draw: &mut impl Draw, apex: impl Into<Point>, start: f64, end: f64, radius: f64, words: &str) {
    let apex = apex.into();
    let at = |degrees: f64, r: f64| apex + direction(degrees) * r;
    let sweep = (end - start).to_radians();
    let arc = Arc::new(apex, (radius, radius), start.to_radians(), sweep, 0.0);
    draw.path(Line::Dimension, arc.to_path(0.001));
    let tangent = |degrees: f64| right_hand(at(degrees, 1.0) - apex) * sweep.signum();
    let arrows_inside = radius * sweep.abs() > 2.5 * HEAD;
    let sense = if arrows_inside { 1.0 } else { -1.0 };
    arrow_head(draw, Fill::Quiet, at(start, radius), tangent(start) * -sense);
    arrow_head(draw, Fill::Quiet, at(end, radius), tangent(end) * sense);
    let middle = f64::midpoint(start, end);
    let out = at(middle, 1.0) - apex;
    let anchor = match out.x {
        x if x > 0.35 => Anchor::Start,
        x if x < -0.35 => Anchor::End,
        _ => Anchor::Middle,
    };
    let drop = Type::Figure.size() * text::CAPITAL * f64::midpoint(1.0, out.y);
    draw.words(Type::Figure, anchor, at(middle, radius + 1.4) + Vec2::new(0.0, drop), words);
}

/// The radius of a curve: an arrow from `centre` out to the curve at `degrees` (clockwise from rightwards), the words beyond.
pub fn radius(draw: &mut impl Draw, centre: impl Into<Point>, radius: f64, degrees: f64, words: &str) {
    let centre = centre.into();
    let out = direction(degrees);
    let tip = centre + out * radius;
    draw.line(Line::Dimension, centre, tip);
    arrow_head(draw, Fill::Quiet, tip, out);
    leader_words(draw, tip + out * 1.5, out.x >= 0.0, &[words]);
}

/// A leader: a dot on `target`, a line to `elbow`, a short shelf away from the target, and the words on it, line by line.
pub fn leader(draw: &mut impl Draw, target: impl Into<Point>, elbow: impl Into<Point>, words: &[&str]) {
    let (target, elbow) = (target.into(), elbow.into());
    let rightwards = elbow.x >= target.x;
    let shelf = elbow + Vec2::new(if rightwards { 2.5 } else { -2.5 }, 0.0);
    draw.trace(Line::Dimension, [target, elbow, shelf]);
    draw.spot(Fill::Quiet, target, 0.55);
    leader_words(draw, shelf + Vec2::new(if rightwards { 0.8 } else { -0.8 }, 0.0), rightwards, words);
}

/// Words beside a point, the first line level with it.
fn leader_words(draw: &mut impl Draw, at: Point, rightwards: bool, words: &[&str]) {
    let anchor = if rightwards { Anchor::Start } else { Anchor::End };
    let drop = Type::Figure.size() * text::CAPITAL / 2.0;
    for (i, line) in words.iter().enumerate() {
        draw.words(Type::Figure, anchor, (at.x, at.y + drop + i as f64 * text::leading(Type::Figure)), *line);
    }
}

/// A part's mark in a ring at `at`, joined to a dot on `target`.
pub fn mark(draw: &mut impl Draw, at: impl Into<Point>, target: impl Into<Point>, word: &str) {
    let (at, target) = (at.into(), target.into());
    let ring = (text::width(Type::Strong, word) / 2.0 + 1.2).max(3.0);
    let way = target - at;
    if way.hypot() > ring {
        draw.line(Line::Dimension, at + unit(way) * ring, target);
        draw.spot(Fill::Quiet, target, 0.55);
    }
    draw.area(Fill::Paper, Some(Line::Detail), kurbo::Circle::new(at, ring).to_path(0.001));
    draw.words(Type::Strong, Anchor::Middle, (at.x, at.y + Type::Strong.size() * text::CAPITAL / 2.0), word);
}

/// A scale bar whose left end is `at`: `steps` fields of `step` (a length of the thing, in its own millimetres; `scale` as
/// in [`crate::draw::sheet::Sheet::scale`]), light and dark in turn. `words` gives the label of stop `i` from 0 to `steps`.
pub fn scale_bar(
    draw: &mut impl Draw,
    at: impl Into<Point>,
    scale: f64,
    step: f64,
    steps: usize,
    words: impl Fn(usize) -> String,
) {
    let (at, wide) = (at.into(), step * scale);
    for i in 0..=steps {
        let x = at.x + i as f64 * wide;
        if i < steps {
            let fill = if i % 2 == 0 { Fill::Ink } else { Fill::Paper };
            draw.area(fill, Some(Line::Detail), Rect::new(x, at.y, x + wide, at.y + 1.4).to_path(0.1));
        }
        draw.words(Type::Figure, Anchor::Middle, (x, at.y + 1.6 + Type::Figure.size()), words(i));
    }
}

/// A two-headed arrow for the run of the warp on a piece, words along it.
pub fn grain(draw: &mut impl Draw, from: impl Into<Point>, to: impl Into<Point>, words: &str) {
    let (from, to) = (from.into(), to.into());
    let along = unit(to - from);
    draw.line(Line::Grain, from + along * HEAD, to - along * HEAD);
    arrow_head(draw, Fill::Quiet, from, -along);
    arrow_head(draw, Fill::Quiet, to, along);
    beside(draw, Line::Grain, from, to, words);
}

/// A one-headed arrow that says which way something goes, words along it.
pub fn way(draw: &mut impl Draw, line: Line, from: impl Into<Point>, to: impl Into<Point>, words: &str) {
    let (from, to) = (from.into(), to.into());
    let along = unit(to - from);
    let long = head_for(draw, line, to, along);
    draw.line(line, from, to - along * (long * 0.8));
    beside(draw, line, from, to, words);
}

/// An arc with an arrow head: something turns about `centre` from `start` to `end` (degrees clockwise from rightwards).
pub fn turns(draw: &mut impl Draw, line: Line, centre: impl Into<Point>, radius: f64, start: f64, end: f64) {
    let centre = centre.into();
    let sweep = (end - start).to_radians();
    draw.path(line, Arc::new(centre, (radius, radius), start.to_radians(), sweep, 0.0).to_path(0.001));
    let out = direction(end);
    let along = right_hand(out) * sweep.signum();
    let long = HEAD + 2.0 * stroke(line).weight;
    head_for(draw, line, centre + out * radius + along * (long * 0.8), along);
}

/// The fill of an arrow head that ends such a line.
fn head_of(line: Line) -> Fill {
    match line {
        Line::Curve => Fill::Curve,
        Line::Second => Fill::Second,
        Line::Danger | Line::Cut => Fill::Danger,
        Line::Dimension | Line::Grain | Line::Ghost | Line::Third | Line::Centre => Fill::Quiet,
        _ => Fill::Ink,
    }
}

/// Words over the middle of the way from `from` to `to`.
fn beside(draw: &mut impl Draw, line: Line, from: Point, to: Point, words: &str) {
    if !words.is_empty() {
        let turn = upright_turn(unit(to - from));
        let over = direction(turn - 90.0) * (OVER + stroke(line).weight / 2.0);
        draw.words_turned(Type::Figure, Anchor::Middle, from.midpoint(to) + over, turn, words);
    }
}

/// Hatching of a cut face: lines `apart` from each other at `degrees`, only inside `path` (even-odd). At most 4 000 lines:
/// a finer hatch of a larger face is drawn wider apart.
pub fn hatch(draw: &mut impl Draw, path: &BezPath, apart: f64, degrees: f64) {
    let level = rotation(-degrees) * path.clone();
    let extent = level.bounding_box();
    if !(extent.area() > 0.0 && extent.is_finite() && apart > 0.0) {
        return;
    }
    let sides = sides_of(&level);
    let apart = apart.max(extent.height() / 4000.0);
    let back = rotation(degrees);
    let mut lines = BezPath::new();
    let mut y = (extent.y0 / apart).ceil() * apart + apart / 2.0;
    while y < extent.y1 {
        let mut meets: Vec<f64> = sides.iter().filter_map(|side| crossing(*side, y)).collect();
        meets.sort_by(f64::total_cmp);
        for pair in meets.chunks_exact(2) {
            lines.move_to(back * Point::new(pair[0], y));
            lines.line_to(back * Point::new(pair[1], y));
        }
        y += apart;
    }
    draw.path(Line::Hatch, lines);
}

/// The straight sides of a flattened path, every loop closed.
fn sides_of(path: &BezPath) -> Vec<(Point, Point)> {
    let mut sides = Vec::new();
    let (mut start, mut last) = (Point::ZERO, Point::ZERO);
    kurbo::flatten(path.iter(), FLAT, |element| match element {
        kurbo::PathEl::MoveTo(p) => {
            sides.push((last, start));
            (start, last) = (p, p);
        }
        kurbo::PathEl::LineTo(p) => {
            sides.push((last, p));
            last = p;
        }
        _ => {
            sides.push((last, start));
            last = start;
        }
    });
    sides.push((last, start));
    sides
}

/// Where a side meets the height `y`; half-open, so that a shared corner counts once.
fn crossing((a, b): (Point, Point), y: f64) -> Option<f64> {
    ((a.y <= y) != (b.y <= y)).then(|| a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y))
}

/// A zigzag where a long thing is drawn shortened: from `from` to `to`, with one kink in the middle.
pub fn shortened(draw: &mut impl Draw, from: impl Into<Point>, to: impl Into<Point>) {
    let (from, to) = (from.into(), to.into());
    let (along, aside) = (unit(to - from), right_hand(unit(to - from)));
    let middle = from.midpoint(to);
    let kink = [
        from,
        middle - along * 1.6,
        middle - along * 0.6 + aside * 2.0,
        middle + along * 0.6 - aside * 2.0,
        middle + along * 1.6,
        to,
    ];
    draw.path(Line::Detail, through(kink));
}

/// The square that proves a print true to size: 100 mm a side, open corners, its words in the middle of the top side.
pub fn test_square(draw: &mut impl Draw, top_left: impl Into<Point>) {
    let at = top_left.into();
    draw.group("test-square", Some("100 mm square: measure it before you cut"), Affine::translate(at.to_vec2()), |g| {
        g.rect(Line::Dimension, Rect::new(0.0, 0.0, 100.0, 100.0));
        let lines = ["Test square", "Measure both ways: 100 mm.", "If it is not, do not cut:", "print again at 100 %."];
        for (i, line) in lines.into_iter().enumerate() {
            let kind = if i == 0 { Type::Strong } else { Type::Small };
            g.words(kind, Anchor::Middle, (50.0, 42.0 + i as f64 * 4.6), line);
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent;
    use crate::draw::sheet::Item;

    fn words_of(items: &[Item]) -> Vec<(Point, f64, Anchor)> {
        let mut found = Vec::new();
        extent::walk(items, &mut |seen| {
            if let extent::Seen::Words { at, turn, anchor, .. } = seen {
                found.push((at, turn, anchor));
            }
        });
        found
    }

    #[test]
    fn words_lie_over_the_measure_line_and_are_read_from_below_or_right() {
        let mut items = Vec::new();
        horizontal(&mut items, (0.0, 0.0), (50.0, 0.0), 10.0, "50");
        horizontal(&mut items, (50.0, 0.0), (0.0, 0.0), 20.0, "50");
        vertical(&mut items, (0.0, 0.0), (0.0, 50.0), -8.0, "50");
        vertical(&mut items, (0.0, 50.0), (0.0, 0.0), -16.0, "50");
        let words = words_of(&items);
        assert!(words[0].0.y < 10.0 && words[0].1.abs() < 1e-9);
        assert!(words[1].0.y < 20.0 && words[1].1.abs() < 1e-9);
        for (at, turn, _) in &words[2..] {
            assert!((turn + 90.0).abs() < 1e-9, "{turn}");
            assert!(at.x < -8.0);
        }
    }

    #[test]
    fn a_positive_offset_lies_on_the_right_hand() {
        let mut items = Vec::new();
        aligned(&mut items, (0.0, 0.0), (40.0, 0.0), 10.0, "40");
        let extent = extent::of(&items).expect("drawn");
        assert!(extent.y1 > 10.0 && extent.y0 > 0.0);
    }

    #[test]
    fn narrow_measures_put_their_words_outside() {
        let mut items = Vec::new();
        horizontal(&mut items, (0.0, 0.0), (2.0, 0.0), 10.0, "2 mm wide");
        let (at, _, anchor) = words_of(&items)[0];
        assert!(at.x > 2.0 && anchor == Anchor::Start);
    }

    /// Identity: the hatching of a shape with a hole, times its spacing, is the shape's area.
    #[test]
    fn hatching_fills_the_face_and_not_its_hole() {
        let mut face = Rect::new(0.0, 0.0, 60.0, 40.0).to_path(0.1);
        face.extend(kurbo::Circle::new((30.0, 20.0), 10.0).to_path(0.01));
        let mut items = Vec::new();
        hatch(&mut items, &face, 0.25, 33.0);
        let Item::Path { path, .. } = &items[0] else { panic!("a path") };
        let length: f64 = path.segments().map(|s| kurbo::ParamCurveArclen::arclen(&s, 1e-6)).sum();
        let area = 60.0 * 40.0 - std::f64::consts::PI * 100.0;
        assert!((length * 0.25 - area).abs() < 0.005 * area, "{} {area}", length * 0.25);
        let mut none = Vec::new();
        hatch(&mut none, &BezPath::new(), 1.0, 45.0);
        assert!(none.is_empty());
    }

    #[test]
    fn points_that_coincide_make_no_nan() {
        let mut items = Vec::new();
        aligned(&mut items, (3.0, 3.0), (3.0, 3.0), 0.0, "0");
        way(&mut items, Line::Curve, (1.0, 1.0), (1.0, 1.0), "");
        mark(&mut items, (1.0, 1.0), (1.0, 1.0), "A");
        assert!(extent::of(&items).expect("drawn").is_finite());
    }
}
