//! Pattern curves: building, measuring, cutting and mirroring them, and the one root finder of the draft. Millimetres, y
//! down. Knows no body and no garment.

use kurbo::{
    Affine, BezPath, CubicBez, Line, ParamCurve, ParamCurveArclen, ParamCurveDeriv, PathEl, PathSeg, Point, Vec2,
};

/// Accuracy of an arc length, mm: a thousandth of what a needle can hold.
const LENGTH_ACCURACY: f64 = 1e-4;

/// A straight path.
pub fn straight(from: Point, to: Point) -> BezPath {
    BezPath::from_path_segments([PathSeg::Line(Line::new(from, to))].into_iter())
}

/// A path of straight lines.
pub fn polyline(points: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    for (i, &p) in points.iter().enumerate() {
        if i == 0 { path.move_to(p) } else { path.line_to(p) }
    }
    path
}

/// One cubic.
pub fn cubic(p0: Point, p1: Point, p2: Point, p3: Point) -> BezPath {
    BezPath::from_path_segments([PathSeg::Cubic(CubicBez::new(p0, p1, p2, p3))].into_iter())
}

/// Length along a path.
pub fn length(path: &BezPath) -> f64 {
    path.segments().map(|s| s.arclen(LENGTH_ACCURACY)).sum()
}

/// Where a path starts.
pub fn start(path: &BezPath) -> Point {
    path.segments().next().map_or(Point::ZERO, |s| s.start())
}

/// Where a path ends.
pub fn end(path: &BezPath) -> Point {
    path.segments().last().map_or(Point::ZERO, |s| s.end())
}

/// Direction of a segment at `t`, of length one; a segment whose handle has length nought takes its chord.
pub fn direction(seg: &PathSeg, t: f64) -> Vec2 {
    let d = match seg {
        PathSeg::Line(l) => l.p1 - l.p0,
        PathSeg::Quad(q) => q.deriv().eval(t).to_vec2(),
        PathSeg::Cubic(c) => c.deriv().eval(t).to_vec2(),
    };
    let d = if d.hypot2() > 1e-18 {
        d
    } else {
        let nudge = if t < 0.5 { t + 1e-3 } else { t - 1e-3 };
        (seg.eval(nudge) - seg.eval(t)) * if t < 0.5 { 1.0 } else { -1.0 }
    };
    let size = d.hypot2().sqrt();
    if size > 0.0 { d / size } else { Vec2::new(1.0, 0.0) }
}

/// The left of a direction when y points down and the loop runs clockwise on the sheet: away from the piece.
pub fn outward(d: Vec2) -> Vec2 {
    Vec2::new(d.y, -d.x)
}

/// Point and direction a distance along a path; beyond its end, the end.
pub fn at(path: &BezPath, distance: f64) -> (Point, Vec2) {
    let mut left = distance.max(0.0);
    let mut last = None;
    for seg in path.segments() {
        let long = seg.arclen(LENGTH_ACCURACY);
        if left <= long {
            let t = if long > 0.0 { seg.inv_arclen(left, LENGTH_ACCURACY).clamp(0.0, 1.0) } else { 0.0 };
            return (seg.eval(t), direction(&seg, t));
        }
        left -= long;
        last = Some(seg);
    }
    last.map_or((Point::ZERO, Vec2::new(1.0, 0.0)), |s| (s.end(), direction(&s, 1.0)))
}

/// Both parts of a path cut at segment `index`, parameter `t`.
pub fn cut_at(path: &BezPath, index: usize, t: f64) -> (BezPath, BezPath) {
    let (mut before, mut after) = (Vec::new(), Vec::new());
    for (i, seg) in path.segments().enumerate() {
        if i < index {
            before.push(seg);
        } else if i > index {
            after.push(seg);
        } else {
            if t > 1e-9 {
                before.push(seg.subsegment(0.0..t));
            }
            if t < 1.0 - 1e-9 {
                after.push(seg.subsegment(t..1.0));
            }
        }
    }
    (BezPath::from_path_segments(before.into_iter()), BezPath::from_path_segments(after.into_iter()))
}

/// The same path walked the other way.
pub fn reversed(path: &BezPath) -> BezPath {
    let segments: Vec<PathSeg> = path.segments().map(|s| s.reverse()).collect();
    BezPath::from_path_segments(segments.into_iter().rev())
}

/// Mirrored in the line x = 0 and walked the other way, so that a clockwise loop stays clockwise.
pub fn mirrored(path: &BezPath) -> BezPath {
    reversed(&(Affine::scale_non_uniform(-1.0, 1.0) * path))
}

/// One path after another; the start of each is taken to be the end of the one before.
pub fn chained<'a>(paths: impl IntoIterator<Item = &'a BezPath>) -> BezPath {
    let mut whole = BezPath::new();
    for path in paths {
        for el in path.elements() {
            match el {
                PathEl::MoveTo(p) if whole.is_empty() => whole.move_to(*p),
                PathEl::MoveTo(_) => {}
                other => whole.push(*other),
            }
        }
    }
    whole
}

/// A root of a continuous `f` between `low` and `high`, where it changes sign: false position with the Illinois change,
/// until the bracket is below `within`. `None` where there is no change of sign or `f` is not a number.
pub fn root(mut low: f64, mut high: f64, within: f64, mut f: impl FnMut(f64) -> f64) -> Option<f64> {
    let (mut at_low, mut at_high) = (f(low), f(high));
    if at_low == 0.0 {
        return Some(low);
    }
    if at_high == 0.0 {
        return Some(high);
    }
    if at_low.is_nan() || at_high.is_nan() || (at_low > 0.0) == (at_high > 0.0) {
        return None;
    }
    let mut kept = 0i8;
    for turn in 0..200 {
        let false_position = (low * at_high - high * at_low) / (at_high - at_low);
        // Every fourth turn halves, so that a bad shape cannot stall it.
        let middle =
            if turn % 4 == 3 { 0.5 * (low + high) } else { false_position.clamp(low.min(high), low.max(high)) };
        let value = f(middle);
        if value.is_nan() {
            return None;
        }
        if value == 0.0 || (high - low).abs() < within {
            return Some(middle);
        }
        if (value > 0.0) == (at_low > 0.0) {
            (low, at_low) = (middle, value);
            if kept == -1 {
                at_high *= 0.5;
            }
            kept = -1;
        } else {
            (high, at_high) = (middle, value);
            if kept == 1 {
                at_low *= 0.5;
            }
            kept = 1;
        }
    }
    Some(0.5 * (low + high))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Identity: a quarter circle of radius 100 as a cubic is 157.08 mm within the known 0.03 % of that cubic.
    #[test]
    fn length_of_a_quarter_circle() {
        let k = 55.22847498;
        let arc = cubic(Point::new(100.0, 0.0), Point::new(100.0, k), Point::new(k, 100.0), Point::new(0.0, 100.0));
        assert!((length(&arc) - 157.0796).abs() < 0.05);
        assert!((length(&reversed(&arc)) - length(&arc)).abs() < 1e-6);
        let (middle, d) = at(&arc, 0.5 * length(&arc));
        assert!((middle.x - middle.y).abs() < 1e-3 && (d.x + d.y).abs() < 1e-4);
    }

    #[test]
    fn roots_are_bracketed_or_refused() {
        assert!((root(0.0, 2.0, 1e-12, |x| x * x - 2.0).unwrap() - std::f64::consts::SQRT_2).abs() < 1e-10);
        assert!((root(1.0, -4.0, 1e-12, |x| x * x * x + 5.0).unwrap() + 1.709_975_946_676_697).abs() < 1e-9);
        assert_eq!(root(0.0, 1.0, 1e-9, |x| x + 1.0), None);
        assert_eq!(root(0.0, 1.0, 1e-9, |_| f64::NAN), None);
    }

    #[test]
    fn cutting_keeps_the_length() {
        let path = cubic(Point::ZERO, Point::new(40.0, 0.0), Point::new(60.0, 90.0), Point::new(10.0, 120.0));
        let (a, b) = cut_at(&path, 0, 0.3);
        assert!((length(&a) + length(&b) - length(&path)).abs() < 1e-3);
        assert_eq!(end(&a), start(&b));
    }
}
