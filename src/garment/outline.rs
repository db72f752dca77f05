//! The cut line of a piece: each seam-line edge moved out by its own allowance. Millimetres, loops clockwise with y down,
//! which is the positive sense of [`crate::geom`]. Knows edges, not what they are sewn to.

use super::curve;
use super::piece::Edge;
use crate::geom::{self, flatten, offset};
use kurbo::{BezPath, PathSeg, Point};

/// How far a flattened curve may lie from the true one, mm: well under the width of a pencil line.
const CLOSE: f64 = 0.02;
/// Length of the first and last stretch of a curve, mm: shorter than any that flattening leaves.
const END: f64 = 0.05;
/// Points nearer than this are one, mm.
const SAME: f64 = 1e-6;

/// The cut line round `edges`, closed; `None` where the allowances leave no single outline.
pub fn cut_line(edges: &[Edge]) -> Option<BezPath> {
    let mut points: Vec<Point> = Vec::new();
    let mut by: Vec<f64> = Vec::new();
    for edge in edges {
        let run = true_ended(&edge.path);
        for pair in run.windows(2).filter(|p| p[0].distance(p[1]) > SAME) {
            points.push(pair[0]);
            by.push(edge.allowance);
        }
    }
    let moved = if by.iter().all(|&d| d == 0.0) { points } else { offset::offset(&points, &by)? };
    let mut path = curve::polyline(&from_top_left(&thinned(&moved)));
    path.close_path();
    Some(path)
}

/// An edge as points, the first and the last stretch so short that they run as the curve does there: at a corner the cut
/// lines are carried on from them.
fn true_ended(path: &BezPath) -> Vec<Point> {
    let mut run: Vec<Point> = Vec::new();
    for part in flatten(path, CLOSE) {
        run.extend(part.into_iter().filter(|p| run.last() != Some(p)).collect::<Vec<_>>());
    }
    let curved = |seg: Option<PathSeg>| seg.is_some_and(|s| !matches!(s, PathSeg::Line(_)));
    let long = curve::length(path);
    if long > 4.0 * END && curved(path.segments().next()) && run.len() > 1 {
        run.insert(1, curve::at(path, END).0);
    }
    if long > 4.0 * END && curved(path.segments().last()) && run.len() > 1 {
        run.insert(run.len() - 1, curve::at(path, long - END).0);
    }
    run
}

/// The outline of a closed path as points.
pub fn polygon(path: &BezPath) -> Vec<Point> {
    flatten(path, CLOSE).into_iter().next().unwrap_or_default()
}

/// Points on a straight run between their neighbours are left out.
fn thinned(points: &[Point]) -> Vec<Point> {
    let n = points.len();
    (0..n)
        .filter(|&i| {
            let (a, b, c) = (points[(i + n - 1) % n], points[i], points[(i + 1) % n]);
            geom::distance_to_edge(b, a, c) > 1e-4
        })
        .map(|i| points[i])
        .collect()
}

/// The same loop from its uppermost, then leftmost point, so that it does not depend on how it was made.
fn from_top_left(points: &[Point]) -> Vec<Point> {
    let first = (0..points.len())
        .min_by(|&i, &j| points[i].y.total_cmp(&points[j].y).then(points[i].x.total_cmp(&points[j].x)))
        .unwrap_or(0);
    points[first..].iter().chain(&points[..first]).copied().collect()
}

#[cfg(test)]
mod tests {
    use super::super::piece::{Finish, Use};
    use super::*;
    use kurbo::Shape;

    fn edge(from: (f64, f64), to: (f64, f64), allowance: f64) -> Edge {
        let path = curve::straight(from.into(), to.into());
        Edge { name: String::new(), path, use_: Use::Plain, finish: Finish::Cut, allowance }
    }

    #[test]
    fn a_rectangle_grows_by_each_allowance() {
        let edges = [
            edge((0.0, 0.0), (100.0, 0.0), 10.0),
            edge((100.0, 0.0), (100.0, 50.0), 0.0),
            edge((100.0, 50.0), (0.0, 50.0), 30.0),
            edge((0.0, 50.0), (0.0, 0.0), 15.0),
        ];
        let cut = cut_line(&edges).expect("one outline");
        assert!((cut.area() - 115.0 * 90.0).abs() < 1e-3, "{}", cut.area());
        assert_eq!(polygon(&cut).len(), 4);
    }

    #[test]
    fn an_inward_corner_is_trimmed_and_a_step_is_kept() {
        let edges = [
            edge((0.0, 0.0), (100.0, 0.0), 10.0),
            edge((100.0, 0.0), (100.0, 40.0), 10.0),
            edge((100.0, 40.0), (60.0, 40.0), 10.0),
            edge((60.0, 40.0), (60.0, 100.0), 10.0),
            edge((60.0, 100.0), (0.0, 100.0), 10.0),
            edge((0.0, 100.0), (0.0, 40.0), 10.0),
            edge((0.0, 40.0), (0.0, 0.0), 20.0),
        ];
        let cut = cut_line(&edges).expect("one outline");
        // The L of 100 x 40 and 60 x 60, grown by 10 all round, and 10 more along 40 + 10 of its left side.
        let expected = 120.0 * 60.0 + 80.0 * 60.0 + 10.0 * 50.0;
        assert!((cut.area() - expected).abs() < 1e-3, "{} {expected}", cut.area());
        assert_eq!(geom::flaw(&polygon(&cut)), None);
    }

    #[test]
    fn no_allowance_is_the_seam_line() {
        let edges = [
            edge((0.0, 0.0), (10.0, 0.0), 0.0),
            edge((10.0, 0.0), (10.0, 20.0), 0.0),
            edge((10.0, 20.0), (0.0, 0.0), 0.0),
        ];
        assert_eq!(cut_line(&edges).expect("an outline").area(), 100.0);
    }
}
