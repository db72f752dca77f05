//! Curves to straight edges, never further off than asked. Uses only sums, products and square roots, so that the same
//! curve gives the same points on every machine.

use kurbo::{BezPath, CubicBez, PathSeg, Point, QuadBez};

/// How far a flattened outline may lie from its curve, mm: a fifth of a sewing thread, well under what scissors follow.
pub const FLATTEN: f64 = 0.05;

/// Most edges for one curve, whatever tolerance is asked.
const MOST: f64 = 4096.0;

/// Every closed or open part of `path` as points, no edge further than `tolerance` (mm, above 0) from its curve. A closing
/// point equal to the first is left out, so each part is an outline.
pub fn flatten(path: &BezPath, tolerance: f64) -> Vec<Vec<Point>> {
    let mut parts: Vec<Vec<Point>> = Vec::new();
    let mut pen: Option<Point> = None;
    for segment in path.segments() {
        if pen != Some(segment_start(&segment)) || parts.is_empty() {
            parts.push(vec![segment_start(&segment)]);
        }
        if let Some(part) = parts.last_mut() {
            push(segment, tolerance, part);
            pen = part.last().copied();
        }
    }
    for part in &mut parts {
        while part.len() > 1 && part.first() == part.last() {
            part.pop();
        }
    }
    parts
}

fn segment_start(segment: &PathSeg) -> Point {
    match segment {
        PathSeg::Line(l) => l.p0,
        PathSeg::Quad(q) => q.p0,
        PathSeg::Cubic(c) => c.p0,
    }
}

/// A chord over a step h of the parameter lies within h² max|B''| / 8 of the curve.
fn push(segment: PathSeg, tolerance: f64, out: &mut Vec<Point>) {
    let curve = match segment {
        PathSeg::Line(l) => return out.push(l.p1),
        PathSeg::Quad(q) => raise(q),
        PathSeg::Cubic(c) => c,
    };
    let CubicBez { p0, p1, p2, p3 } = curve;
    let bend = |a: Point, b: Point, c: Point| ((a - b) + (c - b)).hypot();
    let second = 6.0 * bend(p0, p1, p2).max(bend(p1, p2, p3));
    let steps = (second / (8.0 * tolerance)).sqrt().ceil().clamp(1.0, MOST) as usize;
    out.extend((1..steps).map(|i| at(curve, i as f64 / steps as f64)));
    out.push(p3);
}

fn raise(q: QuadBez) -> CubicBez {
    CubicBez::new(q.p0, q.p0 + (q.p1 - q.p0) * (2.0 / 3.0), q.p2 + (q.p1 - q.p2) * (2.0 / 3.0), q.p2)
}

fn at(c: CubicBez, t: f64) -> Point {
    let s = 1.0 - t;
    let sum = c.p0.to_vec2() * (s * s * s)
        + c.p1.to_vec2() * (3.0 * s * s * t)
        + c.p2.to_vec2() * (3.0 * s * t * t)
        + c.p3.to_vec2() * (t * t * t);
    sum.to_point()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{area, distance_to_edge, edges};
    use kurbo::{Circle, ParamCurve, Shape};

    #[test]
    fn no_point_of_the_curve_is_further_than_asked() {
        let circle = Circle::new((30.0, 40.0), 60.0).to_path(1e-6);
        for tolerance in [1.0, FLATTEN, 0.001] {
            let parts = flatten(&circle, tolerance);
            assert_eq!(parts.len(), 1);
            let worst = circle.segments().flat_map(|s| (0..200).map(move |i| s.eval(f64::from(i) / 200.0))).fold(
                0.0_f64,
                |worst, p| {
                    worst.max(edges(&parts[0]).map(|(a, b)| distance_to_edge(p, a, b)).fold(f64::INFINITY, f64::min))
                },
            );
            assert!(worst <= tolerance && worst > tolerance / 10.0, "{worst} for {tolerance}");
            let lost = 1.0 - area(&parts[0]) / (core::f64::consts::PI * 3600.0);
            assert!((0.0..2.0 * tolerance / 60.0 + 1e-6).contains(&lost), "{lost} of the area at {tolerance}");
        }
    }

    #[test]
    fn parts_stay_apart_and_close() {
        let path = BezPath::from_svg("M0,0 L10,0 L10,10 Z M20,0 Q25,10 30,0 Z").expect("own text");
        let parts = flatten(&path, 0.1);
        assert_eq!(parts.len(), 2);
        assert_eq!(parts[0].len(), 3);
        assert!(parts[1].len() > 4 && parts[1].first() != parts[1].last());
    }
}
