//! Fewer points for the same outline, within a stated distance.

use super::Point;
use kurbo::{Line, ParamCurveNearest};

/// The corners of a closed outline that are needed so that no dropped point lies further than `tolerance` (mm) from what is left: the
/// dividing rule of Douglas and Peucker (1973), from the two points furthest apart. The outline keeps its direction.
pub fn thinned(outline: &[Point], tolerance: f64) -> Vec<Point> {
    if outline.len() < 5 {
        return outline.to_vec();
    }
    let far =
        (0..outline.len()).max_by(|a, b| distance(outline, 0, *a).total_cmp(&distance(outline, 0, *b))).unwrap_or(0);
    let mut keep = vec![false; outline.len() + 1];
    (keep[0], keep[far], keep[outline.len()]) = (true, true, true);
    let closed: Vec<Point> = outline.iter().chain(outline.first()).copied().collect();
    let mut runs = vec![(0, far), (far, outline.len())];
    while let Some((from, to)) = runs.pop() {
        let chord = Line::new(closed[from], closed[to]);
        let off = |at: usize| chord.nearest(closed[at], 1e-9).distance_sq;
        let Some(worst) = (from + 1..to).max_by(|a, b| off(*a).total_cmp(&off(*b))) else { continue };
        if off(worst) > tolerance * tolerance {
            keep[worst] = true;
            runs.extend([(from, worst), (worst, to)]);
        }
    }
    outline.iter().zip(&keep).filter(|(_, keep)| **keep).map(|(point, _)| *point).collect()
}

fn distance(outline: &[Point], a: usize, b: usize) -> f64 {
    outline[a].distance_squared(outline[b])
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Shape;

    #[test]
    fn a_circle_keeps_its_shape_in_fewer_points() {
        let circle = kurbo::Circle::new((0.0, 0.0), 100.0).to_path(1e-3);
        let fine = super::super::flatten(&circle, 0.01).remove(0);
        let few = thinned(&fine, 0.5);
        assert!(few.len() * 4 < fine.len() && few.len() >= 16, "{} of {}", few.len(), fine.len());
        for point in &fine {
            let near = (0..few.len())
                .map(|at| Line::new(few[at], few[(at + 1) % few.len()]).nearest(*point, 1e-9).distance_sq)
                .fold(f64::INFINITY, f64::min);
            assert!(near <= 0.5 * 0.5 + 1e-9, "{near}");
        }
        let square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)].map(Point::from);
        assert_eq!(thinned(&square, 0.5), square);
    }
}
