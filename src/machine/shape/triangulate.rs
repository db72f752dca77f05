//! Triangles of an outline with holes: each hole is joined to the outer edge by a bridge, then ears are cut off.
//!
//! All tests are on whole numbers, so none is decided by rounding. No corner is added: the triangles use the outline's own
//! corners, which is what makes cap and wall of a solid share their edges.

use super::{GRID, Outline};
use crate::machine::Refusal;

type Dot = (i64, i64);

/// Triangles as corner numbers (outer first, then hole by hole), anticlockwise. `outline` must be tidy.
pub(super) fn triangles(outline: &Outline) -> Result<Vec<[usize; 3]>, Refusal> {
    let dots: Vec<Dot> = (outline.outer.iter().chain(outline.holes.iter().flatten()))
        .map(|p| ((p[0] * GRID).round() as i64, (p[1] * GRID).round() as i64))
        .collect();
    let mut start = outline.outer.len();
    let mut holes: Vec<Vec<usize>> = Vec::new();
    for hole in &outline.holes {
        holes.push((start..start + hole.len()).collect());
        start += hole.len();
    }
    let mut ring: Vec<usize> = (0..outline.outer.len()).collect();
    // Rightmost holes first, so that a bridge to the right meets only what is already joined.
    holes.sort_by_key(|h| std::cmp::Reverse(h.iter().map(|i| dots[*i]).max()));
    for hole in holes {
        bridge(&dots, &mut ring, &hole)?;
    }
    cut_ears(&dots, ring)
}

/// Twice the signed area of a triangle.
fn turn(a: Dot, b: Dot, c: Dot) -> i128 {
    let (abx, aby) = (i128::from(b.0 - a.0), i128::from(b.1 - a.1));
    let (acx, acy) = (i128::from(c.0 - a.0), i128::from(c.1 - a.1));
    abx * acy - aby * acx
}

/// Whether `p` lies in or on the anticlockwise triangle.
fn covers(a: Dot, b: Dot, c: Dot, p: Dot) -> bool {
    turn(a, b, p) >= 0 && turn(b, c, p) >= 0 && turn(c, a, p) >= 0
}

/// Joins a hole to the ring at the ring's corner that its rightmost corner sees.
fn bridge(dots: &[Dot], ring: &mut Vec<usize>, hole: &[usize]) -> Result<(), Refusal> {
    let lost = || Refusal::new("shape", "a hole lies outside its part or cuts its edge");
    let (at, _) = hole.iter().enumerate().max_by_key(|(_, i)| dots[**i]).ok_or_else(lost)?;
    let from = dots[hole[at]];
    let mut order: Vec<usize> = (0..ring.len()).filter(|i| dots[ring[*i]].0 >= from.0).collect();
    order.sort_by_key(|i| {
        let (dx, dy) = (i128::from(dots[ring[*i]].0 - from.0), i128::from(dots[ring[*i]].1 - from.1));
        (dx * dx + dy * dy, *i)
    });
    let to = order.into_iter().find(|i| sees(dots, ring, *i, from)).ok_or_else(lost)?;
    let mut joined = ring[..=to].to_vec();
    joined.extend(hole[at..].iter().chain(&hole[..=at]));
    joined.extend(&ring[to..]);
    *ring = joined;
    Ok(())
}

/// Whether the ring's corner `to` sees `from` along the inside.
fn sees(dots: &[Dot], ring: &[usize], to: usize, from: Dot) -> bool {
    let n = ring.len();
    let (before, here, after) = (dots[ring[(to + n - 1) % n]], dots[ring[to]], dots[ring[(to + 1) % n]]);
    let convex = turn(before, here, after) > 0;
    let (left, right) = (turn(here, after, from) > 0, turn(before, here, from) > 0);
    let inside = if convex { left && right } else { left || right };
    inside
        && (0..n).all(|i| {
            let (a, b) = (dots[ring[i]], dots[ring[(i + 1) % n]]);
            a == here || b == here || !crosses(here, from, a, b)
        })
}

/// Whether two closed stretches touch.
fn crosses(a: Dot, b: Dot, c: Dot, d: Dot) -> bool {
    let (s1, s2, s3, s4) =
        (turn(a, b, c).signum(), turn(a, b, d).signum(), turn(c, d, a).signum(), turn(c, d, b).signum());
    if s1 != s2 && s3 != s4 {
        return true;
    }
    let on = |p: Dot, q: Dot, r: Dot| {
        turn(p, q, r) == 0 && r.0 >= p.0.min(q.0) && r.0 <= p.0.max(q.0) && r.1 >= p.1.min(q.1) && r.1 <= p.1.max(q.1)
    };
    on(a, b, c) || on(a, b, d) || on(c, d, a) || on(c, d, b)
}

fn cut_ears(dots: &[Dot], mut ring: Vec<usize>) -> Result<Vec<[usize; 3]>, Refusal> {
    let mut out = Vec::with_capacity(ring.len());
    let mut at = 0;
    let mut tried = 0;
    while ring.len() > 3 {
        let n = ring.len();
        let (before, here, after) = (ring[(at + n - 1) % n], ring[at % n], ring[(at + 1) % n]);
        if is_ear(dots, &ring, before, here, after) {
            out.push([before, here, after]);
            ring.remove(at % n);
            tried = 0;
            // Going on two further keeps the triangles from fanning into slivers about one corner.
            at = (at + 1) % ring.len();
        } else {
            tried += 1;
            at = (at + 1) % n;
            if tried > n {
                return Err(Refusal::new("shape", "the edge crosses or touches itself"));
            }
        }
    }
    if turn(dots[ring[0]], dots[ring[1]], dots[ring[2]]) <= 0 {
        return Err(Refusal::new("shape", "the edge crosses or touches itself"));
    }
    out.push([ring[0], ring[1], ring[2]]);
    Ok(out)
}

fn is_ear(dots: &[Dot], ring: &[usize], before: usize, here: usize, after: usize) -> bool {
    let (a, b, c) = (dots[before], dots[here], dots[after]);
    turn(a, b, c) > 0
        && ring.iter().all(|i| {
            let p = dots[*i];
            p == a || p == b || p == c || !covers(a, b, c, p)
        })
}
