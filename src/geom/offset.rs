//! Wide offsets (seam allowances, facings) and what two outlines have in common. The only module that knows `i_overlay`,
//! whose interface moves often. It works on a whole-number grid fitted to the input; with 64-bit numbers that is finer than
//! a millionth of a millimetre for anything that goes on a cutting table.

use super::{area, edges, flaw};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::overlay::FloatOverlay;
use i_overlay::float::simplify::SimplifyShape;
use kurbo::{Point, Vec2};

/// An outward corner reaches at most this many times its wider allowance before it is cut straight.
const MITRE: f64 = 4.0;

/// Neighbouring edges that turn less than this (radians, about 0.06°) count as one smooth line.
const SMOOTH: f64 = 1e-3;

type Contour = Vec<[f64; 2]>;

/// The simple, anticlockwise `outline` with each edge moved outwards by its own distance `by[i]` (mm, edge `i` starts at point
/// `i`; negative moves inwards) and corners carried to a point, or cut straight where that would reach further than
/// four times the allowance. Where the distance changes along a smooth line the result has a step. `None` when nothing,
/// more than one outline or an outline with a hole is left, or `by` has the wrong length.
///
/// Each edge adds, or takes away, the bar between its old and its new place and the wedge at its corners, so an inward curve
/// tighter than the allowance leaves no loops.
pub fn offset(outline: &[Point], by: &[f64]) -> Option<Vec<Point>> {
    if by.len() != outline.len() || outline.len() < 3 || by.iter().any(|d| !d.is_finite()) {
        return None;
    }
    moved(outline, by).or_else(|| joined(outline, by))
}

/// The bars joined to the outline.
fn joined(outline: &[Point], by: &[f64]) -> Option<Vec<Point>> {
    let whole = [contour(outline)];
    let wider: Vec<Contour> = whole.iter().cloned().chain(bars(outline, by, 1.0)).collect();
    let narrower = bars(outline, by, -1.0);
    let shapes = if narrower.is_empty() {
        wider.simplify_shape_as::<i64>(FillRule::NonZero)
    } else {
        FloatOverlay::<[f64; 2], i64>::from_subj_and_clip(&wider, &narrower)
            .overlay(OverlayRule::Difference, FillRule::NonZero)
    };
    match shapes.as_slice() {
        [shape] if shape.len() == 1 => Some(points(&shape[0])),
        _ => None,
    }
}

/// The same where it can be had without joining bars, some ten times sooner: no edge moves inwards, at every corner it is plain where the
/// moved edges meet, those used up lie in a hollow, and the result does not cross itself.
fn moved(outline: &[Point], by: &[f64]) -> Option<Vec<Point>> {
    if by.iter().any(|d| *d < 0.0) {
        return None;
    }
    let n = outline.len();
    let long: Vec<f64> = edges(outline).map(|(a, b)| (b - a).hypot()).collect();
    let along: Vec<Vec2> = edges(outline).zip(&long).map(|((a, b), long)| (b - a) / *long).collect();
    let next = |edge: usize| (edge + 1) % n;
    let out = |edge: usize| Vec2::new(along[edge].y, -along[edge].x);
    // where one edge ends and another begins
    let corner = |before: usize, after: usize| {
        let (one, other) = ((along[before], by[before]), (along[after], by[after]));
        if next(before) == after {
            let (end, begin) = turned(one, other)?;
            // in a hollow the end of each bar lies under the other, or where that is a mere hair, under the one beyond it
            let (before_it, after_it) = ((before + n - 1) % n, next(after));
            let under = |p: Point, edge: usize| (p - outline[edge]).dot(out(edge)) <= by[edge] + 1e-9;
            let (last, first) = (out(before) * by[before], out(after) * by[after]);
            let hollow = along[before].cross(along[after]) < 0.0;
            if hollow
                && ((first.dot(along[before]) < -long[before] && !under(outline[after] + first, before_it))
                    || (last.dot(along[after]) > long[after] && !under(outline[after] + last, after_it)))
            {
                return None;
            }
            return Some((outline[after] + end, outline[after] + begin));
        }
        let meet = crossed((outline[before], one), (outline[after], other))?;
        let within = (meet - outline[next(before)]).dot(along[before]) <= 0.0
            && (meet - outline[after]).dot(along[after]) >= 0.0;
        within.then_some((meet, meet))
    };
    let mut kept: Vec<usize> = (0..n).collect();
    let mut corners: Vec<(Point, Point)> = (0..n).map(|i| corner((i + n - 1) % n, i)).collect::<Option<_>>()?;
    loop {
        let m = kept.len();
        let left = |k: usize| (corners[(k + 1) % m].0 - corners[k].1).dot(along[kept[k]]);
        let (least, at) = (0..m).map(|k| (left(k), k)).min_by(|a, b| a.0.total_cmp(&b.0))?;
        if least > LEFT {
            break;
        }
        // in a hollow the edges beside it close over one that is used up
        let (before, after) = (kept[(at + m - 1) % m], kept[(at + 1) % m]);
        let turns_in = |a: usize, b: usize| along[a].cross(along[b]) < 0.0;
        if m <= 3 || !turns_in(before, kept[at]) || !turns_in(kept[at], after) {
            return None;
        }
        corners[(at + 1) % m] = corner(before, after)?;
        kept.remove(at);
        corners.remove(at);
    }
    let mut moved: Vec<Point> = Vec::with_capacity(n + 8);
    for (end, begin) in corners {
        moved.push(end);
        if (begin - end).hypot() > LEFT {
            moved.push(begin);
        }
    }
    flaw(&moved).is_none().then_some(moved)
}

/// Where two moved edges meet that are no neighbours: a point on each, its direction and how far it moves. `None` where the second does not
/// turn in.
fn crossed((a, (t0, d0)): (Point, (Vec2, f64)), (b, (t1, d1)): (Point, (Vec2, f64))) -> Option<Point> {
    let (a, b) = (a + Vec2::new(t0.y, -t0.x) * d0, b + Vec2::new(t1.y, -t1.x) * d1);
    let cross = t0.cross(t1);
    (cross < -1e-9).then(|| a + t0 * ((b - a).cross(t1) / cross))
}

/// Least length that must be left of a moved edge, mm.
const LEFT: f64 = 1e-6;

/// Where, seen from a corner, the moved edge before it ends and the one after it begins; the directions of both edges and how far each
/// moves. `None` where that needs more than one corner or one step.
fn turned((t0, d0): (Vec2, f64), (t1, d1): (Vec2, f64)) -> Option<(Vec2, Vec2)> {
    let (n0, n1) = (Vec2::new(t0.y, -t0.x), Vec2::new(t1.y, -t1.x));
    let (cross, dot) = (n0.cross(n1), n0.dot(n1));
    let ends = (n0 * d0, n1 * d1);
    let even = (d0 - d1).abs() <= 1e-9;
    if d0.max(d1) <= 0.0 {
        return Some((Vec2::ZERO, Vec2::ZERO));
    }
    if cross.abs() < SMOOTH && dot > 0.0 && !even {
        return Some(match (cross > 0.0, d1 > d0) {
            // the bars part, or the one that leans over the other cuts it short
            (true, _) => ends,
            (false, true) => (n1 * (d0 / dot), ends.1),
            (false, false) => (ends.0, n0 * (d1 / dot)),
        });
    }
    if even && dot > 0.0 {
        let meet = (n0 + n1) * (d0 / (1.0 + dot));
        return Some((meet, meet));
    }
    let meet = (n0 * (d0 - d1 * dot) + n1 * (d1 - d0 * dot)) / (1.0 - dot * dot).max(1e-12);
    if cross > 0.0 {
        if meet.dot(t0) < 0.0 || meet.dot(t1) > 0.0 {
            return None;
        }
        let far = meet.hypot() > MITRE * d0.max(d1);
        return Some(if far { ends } else { (meet, meet) });
    }
    (meet.dot(t0) <= 0.0 && meet.dot(t1) >= 0.0).then_some((meet, meet))
}

/// [`offset`] by the same distance all round.
pub fn offset_evenly(outline: &[Point], by: f64) -> Option<Vec<Point>> {
    offset(outline, &vec![by; outline.len()])
}

/// The bars and corner wedges of the edges that move outwards (`way` 1) or inwards (`way` -1), all anticlockwise.
fn bars(outline: &[Point], by: &[f64], way: f64) -> Vec<Contour> {
    let n = outline.len();
    let normal: Vec<Vec2> =
        edges(outline).map(|(a, b)| (b - a).normalize()).map(|v| Vec2::new(v.y, -v.x) * way).collect();
    let far = |i: usize| (by[i] * way).max(0.0);
    let mut bars = Vec::new();
    for i in (0..n).filter(|&i| far(i) > 0.0) {
        let (a, b) = (outline[i], outline[(i + 1) % n]);
        bars.push(vec![a, a + normal[i] * far(i), b + normal[i] * far(i), b]);
    }
    for i in 0..n {
        let before = (i + n - 1) % n;
        bars.extend(wedge(outline[i], (normal[before], far(before)), (normal[i], far(i)), way));
    }
    bars.iter_mut().filter(|bar| area(bar) < 0.0).for_each(|bar| bar.reverse());
    bars.iter().map(|bar| contour(bar)).collect()
}

/// What fills the gap between two bars at a corner that opens.
fn wedge(at: Point, (n0, d0): (Vec2, f64), (n1, d1): (Vec2, f64), way: f64) -> Option<Vec<Point>> {
    let (cross, dot) = (n0.cross(n1) * way, n0.dot(n1));
    if cross <= 0.0 || d0.max(d1) <= 0.0 {
        return None;
    }
    // The point at d0 from the first edge's line and at d1 from the second's.
    let meet = (n0 * (d0 - d1 * dot) + n1 * (d1 - d0 * dot)) / (1.0 - dot * dot).max(1e-12);
    let smooth = cross < SMOOTH && (d0 - d1).abs() > 1e-9;
    if smooth || meet.hypot() > MITRE * d0.max(d1) {
        return Some(vec![at, at + n0 * d0, at + n1 * d1]);
    }
    Some(vec![at, at + n0 * d0, at + meet, at + n1 * d1])
}

/// What two outlines have in common: none, one or several outlines. Parts that only touch are left out.
pub fn common(a: &[Point], b: &[Point]) -> Vec<Vec<Point>> {
    let (a, b) = (contour(a), contour(b));
    FloatOverlay::<[f64; 2], i64>::from_subj_and_clip(&a, &b)
        .overlay(OverlayRule::Intersect, FillRule::NonZero)
        .iter()
        .filter_map(|shape| shape.first())
        .map(|c| points(c))
        .collect()
}

/// Area of what two outlines have in common, mm².
pub fn common_area(a: &[Point], b: &[Point]) -> f64 {
    common(a, b).iter().map(|part| area(part)).sum()
}

fn contour(points: &[Point]) -> Contour {
    points.iter().map(|p| [p.x, p.y]).collect()
}

fn points(contour: &[[f64; 2]]) -> Vec<Point> {
    contour.iter().map(|[x, y]| Point::new(*x, *y)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Whereabouts, bounds, flatten, rectangle, whereabouts};
    use kurbo::{Circle, Rect, Shape};

    #[test]
    fn a_circle_grows_by_the_formula() {
        let circle = &flatten(&Circle::new((0., 0.), 50.0).to_path(1e-6), 0.01)[0];
        let wide = offset_evenly(circle, 10.0).expect("one outline");
        let exact = core::f64::consts::PI * 3600.0;
        assert!((area(&wide) / exact - 1.0).abs() < 4e-4, "{}", area(&wide));
        let narrow = offset_evenly(circle, -10.0).expect("one outline");
        assert!((area(&narrow) / (core::f64::consts::PI * 1600.0) - 1.0).abs() < 6e-4, "{}", area(&narrow));
    }

    #[test]
    fn each_edge_has_its_own_allowance() {
        let wide = offset(&rectangle(Rect::new(0., 0., 100., 50.)), &[10.0, 20.0, 0.0, 15.0]).expect("one outline");
        let b = bounds(&wide);
        for (got, want) in [(b.x0, -15.0), (b.y0, -10.0), (b.x1, 120.0), (b.y1, 50.0)] {
            assert!((got - want).abs() < 1e-6, "{b:?}");
        }
        assert!((area(&wide) - 135.0 * 60.0).abs() < 1e-3);
    }

    #[test]
    fn an_inward_curve_tighter_than_the_allowance_leaves_no_loop() {
        // A neck: half a circle of radius 8 cut from a board's top, offset by 10 closes over the hollow's flanks.
        let mut neck = vec![Point::new(-50., -40.), Point::new(50., -40.), Point::new(50., 0.)];
        let arc = flatten(&Circle::new((0., 0.), 8.0).to_path(1e-6), 0.01);
        neck.push(Point::new(8., 0.));
        neck.extend(arc[0].iter().filter(|p| p.y < -1e-9).rev());
        neck.push(Point::new(-8., 0.));
        neck.push(Point::new(-50., 0.));
        let wide = offset_evenly(&neck, 10.0).expect("one outline");
        assert!(crate::geom::flaw(&wide).is_none());
        assert_eq!(whereabouts(&wide, Point::new(0., -4.)), Whereabouts::Inside, "the hollow is filled");
        assert!((bounds(&wide).y1 - 10.0).abs() < 1e-6);
    }

    /// The quick way against the thorough one, on blobs with corners, curves and allowances thrown at random.
    #[test]
    fn moved_edges_are_the_joined_bars() {
        let mut seed = 11u32;
        let mut throw = |below: u32| {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (seed >> 16) % below
        };
        let mut quick = 0;
        for case in 0..4000 {
            let corners = 4 + throw(9) as usize;
            let way = |k: usize| core::f64::consts::TAU * k as f64 / corners as f64;
            let radii: Vec<f64> = (0..corners).map(|_| 120.0 + f64::from(throw(260))).collect();
            let allowances = [0.0, 10.0, 15.0, 30.0];
            let (mut outline, mut by): (Vec<Point>, Vec<f64>) = (Vec::new(), Vec::new());
            for k in 0..corners {
                let at = |k: usize| Point::ORIGIN + Vec2::from_angle(way(k)) * radii[k % corners];
                let (a, b) = (at(k), at(k + 1));
                // straight, or bent in or out
                let bend = [0.0, 0.2, -0.2][throw(3) as usize];
                let middle = a.midpoint(b) + Vec2::new((b - a).y, -(b - a).x) * bend;
                let steps = if bend == 0.0 { 1 } else { 12 };
                let allowance = allowances[if case % 2 == 0 { 1 } else { throw(4) as usize }];
                // with a first and a last stretch of a hair, as cut lines have them
                let even = (0..steps).map(|step| f64::from(step) / f64::from(steps));
                let mut places: Vec<f64> = even.collect();
                if bend != 0.0 {
                    places.insert(1, 2e-4);
                    places.push(1.0 - 2e-4);
                }
                for t in places {
                    outline.push(a.lerp(middle, t).lerp(middle.lerp(b, t), t));
                    by.push(allowance);
                }
            }
            if flaw(&outline).is_some() {
                continue;
            }
            let Some(moved) = moved(&outline, &by) else { continue };
            let joined = joined(&outline, &by).expect("one outline");
            quick += 1;
            let both = common_area(&moved, &joined);
            for area in [area(&moved), area(&joined)] {
                assert!((area - both).abs() < 1e-4, "case {case}: {area} and {both} in common");
            }
        }
        assert!(quick > 500, "the quick way hardly ever serves: {quick}");
    }

    #[test]
    fn a_needle_is_cut_straight() {
        let needle = [(0., 0.), (100., 0.5), (0., 1.)].map(Point::from);
        let wide = offset_evenly(&needle, 2.0).expect("one outline");
        assert!(bounds(&wide).x1 < 103.0, "{:?}", bounds(&wide));
    }

    #[test]
    fn common_area_of_two_squares() {
        let a = rectangle(Rect::new(0., 0., 10., 10.));
        assert!((common_area(&a, &rectangle(Rect::new(7., 8., 20., 20.))) - 6.0).abs() < 1e-9);
        assert_eq!(common_area(&a, &rectangle(Rect::new(10., 0., 20., 20.))), 0.0);
        assert!(offset_evenly(&a, -6.0).is_none(), "nothing is left");
        assert!(offset(&a, &[1.0]).is_none());
    }
}
