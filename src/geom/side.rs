//! On which side of a line a point lies, exactly. The quick answer carries a bound on its own rounding; only when that bound
//! does not settle it, the sum is carried out without rounding as a list of parts (Shewchuk 1997, "Adaptive precision
//! floating-point arithmetic and fast robust geometric predicates", Discrete & Computational Geometry 18, sections 2 and 3).

use kurbo::Point;

/// Where a point lies, seen along a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    Left,
    On,
    Right,
}

/// (3 + 16 e) e with e = 2⁻⁵³: the bound `ccwerrboundA` of the paper cited above, section 4.
const QUICK: f64 = 3.330_669_073_875_472e-16;

/// The side of the line from `a` to `b` on which `c` lies. Exact for finite coordinates within ±1e140.
pub fn side(a: Point, b: Point, c: Point) -> Side {
    let (left, right) = ((a.x - c.x) * (b.y - c.y), (a.y - c.y) * (b.x - c.x));
    let det = left - right;
    if det.abs() > QUICK * (left.abs() + right.abs()) { sign(det) } else { exact(a, b, c) }
}

fn sign(x: f64) -> Side {
    match x {
        x if x > 0.0 => Side::Left,
        x if x < 0.0 => Side::Right,
        _ => Side::On,
    }
}

/// The same by the twelve parts of a·b + b·c + c·a (cross products), summed without loss.
#[cold]
fn exact(a: Point, b: Point, c: Point) -> Side {
    let mut parts = [0.0; 12];
    let mut used = 0;
    for (p, q) in [(a, b), (b, c), (c, a)] {
        for (x, y) in [(p.x, q.y), (-p.y, q.x)] {
            let product = x * y;
            for part in [x.mul_add(y, -product), product] {
                add(&mut parts, &mut used, part);
            }
        }
    }
    // The parts do not overlap, so the last that is not zero has the sign of the whole.
    sign(parts[..used].iter().rev().copied().find(|p| *p != 0.0).unwrap_or(0.0))
}

/// Adds `term` to the list of parts, keeping every bit (GROW-EXPANSION of the paper).
fn add(parts: &mut [f64; 12], used: &mut usize, term: f64) {
    let mut carry = term;
    for part in &mut parts[..*used] {
        let sum = carry + *part;
        let seen = sum - carry;
        *part = (carry - (sum - seen)) + (*part - seen);
        carry = sum;
    }
    parts[*used] = carry;
    *used += 1;
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The same test in whole numbers, for coordinates that are whole multiples of 2⁻⁵².
    fn in_whole_numbers(p: [Point; 3]) -> Side {
        let whole = |v: f64| (v * (1u64 << 52) as f64) as i128;
        let [a, b, c] = p.map(|p| (whole(p.x), whole(p.y)));
        let det = (a.0 - c.0) * (b.1 - c.1) - (a.1 - c.1) * (b.0 - c.0);
        [Side::Right, Side::On, Side::Left][(det.signum() + 1) as usize]
    }

    #[test]
    fn steps_of_one_unit_in_the_last_place_are_told_apart() {
        // The classic hard case: a grid of neighbouring doubles about (0.5, 0.5) against the line through (12, 12), (24, 24).
        let (mut rounded_wrong, ulp) = (0, f64::EPSILON / 2.0);
        for i in 0..64 {
            for j in 0..64 {
                let p = Point::new(0.5 + f64::from(i) * ulp * 2.0, 0.5 + f64::from(j) * ulp * 2.0);
                let [q, r] = [Point::new(12.0, 12.0), Point::new(24.0, 24.0)];
                assert_eq!(side(p, q, r), in_whole_numbers([p, q, r]));
                let naive = (q - p).cross(r - p);
                rounded_wrong += usize::from(sign(naive) != side(p, q, r));
            }
        }
        assert!(rounded_wrong > 100, "the rounded test should fail here, or this proves nothing: {rounded_wrong}");
    }

    #[test]
    fn plain_cases() {
        let [a, b] = [Point::new(0., 0.), Point::new(2., 1.)];
        assert_eq!(side(a, b, Point::new(0., 1.)), Side::Left);
        assert_eq!(side(a, b, Point::new(1., 0.)), Side::Right);
        assert_eq!(side(a, b, Point::new(4., 2.)), Side::On);
        assert_eq!(side(a, a, Point::new(4., 2.)), Side::On);
    }
}
