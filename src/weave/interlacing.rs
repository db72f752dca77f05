//! What the setting of a cloth needs to know of its weave: how often the threads cross from one face to the other, how long
//! they float, whether all are caught, and whether the cloth holds together at all. Counted on the block that repeats.

use super::Drawdown;

/// Counts over one repeat.
#[derive(Clone, Debug, PartialEq)]
pub struct Interlacing {
    /// Ends in the repeat.
    pub ends: usize,
    /// Picks in the repeat.
    pub picks: usize,
    /// Times a pick goes from one face to the other in a repeat, mean over the picks. These make room between *ends*.
    pub weft_crossings: f64,
    /// Times an end goes from one face to the other in a repeat, mean over the ends. These make room between *picks*.
    pub warp_crossings: f64,
    /// Mean number of ends a pick passes before it changes face.
    pub weft_float: f64,
    /// Mean number of picks an end passes before it changes face.
    pub warp_float: f64,
    /// Longest run of picks that an end lies over on the face, and on the back.
    pub longest_warp_float: (usize, usize),
    /// Longest run of ends that a pick lies over on the face, and on the back.
    pub longest_weft_float: (usize, usize),
    /// Share of crossings with the warp on the face.
    pub warp_on_face: f64,
    /// Ends (from 0) that no pick ever catches.
    pub loose_ends: Vec<usize>,
    /// Picks (from 0) that no end ever catches.
    pub loose_picks: Vec<usize>,
    /// Whether it is one cloth: `false` when some of its threads lie wholly above the rest and can be lifted off.
    pub holds_together: bool,
}

impl Interlacing {
    /// Counts the least repeat of `block`.
    pub fn of(block: &Drawdown) -> Self {
        let block = block.repeat();
        let (ends, picks) = (block.ends(), block.picks());
        let warp: Vec<Runs> = (0..ends).map(|e| Runs::of(picks, |k| block.warp_up(e, k))).collect();
        let weft: Vec<Runs> = (0..picks).map(|k| Runs::of(ends, |e| !block.warp_up(e, k))).collect();
        let mean = |runs: &[Runs]| runs.iter().map(|r| r.changes).sum::<usize>() as f64 / runs.len() as f64;
        let longest = |runs: &[Runs]| runs.iter().fold((0, 0), |(f, b), r| (f.max(r.face), b.max(r.back)));
        let loose = |runs: &[Runs]| runs.iter().enumerate().filter(|(_, r)| r.changes == 0).map(|(i, _)| i).collect();
        let up: usize = (0..picks).map(|k| (0..ends).filter(|&e| block.warp_up(e, k)).count()).sum();
        let (warp_crossings, weft_crossings) = (mean(&warp), mean(&weft));
        Interlacing {
            ends,
            picks,
            weft_crossings,
            warp_crossings,
            // A thread that never crosses floats for ever; the repeat is as far as one can see of it.
            weft_float: ends as f64 / weft_crossings.max(1.0),
            warp_float: picks as f64 / warp_crossings.max(1.0),
            longest_warp_float: longest(&warp),
            longest_weft_float: longest(&weft),
            warp_on_face: up as f64 / (ends * picks) as f64,
            loose_ends: loose(&warp),
            loose_picks: loose(&weft),
            holds_together: holds_together(&block),
        }
    }
}

/// Runs of one thread round its repeat.
struct Runs {
    changes: usize,
    face: usize,
    back: usize,
}

impl Runs {
    fn of(n: usize, on_face: impl Fn(usize) -> bool) -> Self {
        let changes = (0..n).filter(|&i| on_face(i) != on_face((i + 1) % n)).count();
        let mut runs = Runs { changes, face: 0, back: 0 };
        // Begin where a run begins, so that none is cut by the end of the repeat.
        let start = (0..n).find(|&i| on_face(i) != on_face((i + n - 1) % n)).unwrap_or(0);
        let mut length = 0;
        for i in 0..n {
            let here = on_face((start + i) % n);
            length += 1;
            if i + 1 == n || on_face((start + i + 1) % n) != here {
                let longest = if here { &mut runs.face } else { &mut runs.back };
                *longest = (*longest).max(length);
                length = 0;
            }
        }
        runs
    }
}

/// Whether no part of the threads lies wholly above the rest. Draw an arrow from the upper to the lower thread at each crossing:
/// the cloth is one if every thread can be reached from every other (Clapham, *The bipartite tournament associated with a
/// fabric*, Discrete Mathematics 57, 1985; from memory).
fn holds_together(block: &Drawdown) -> bool {
    reaches_all(block, false) && reaches_all(block, true)
}

/// Whether end 0 reaches every thread by going down (or, `back`, up) at crossings.
fn reaches_all(block: &Drawdown, back: bool) -> bool {
    let (ends, picks) = (block.ends(), block.picks());
    let mut seen = vec![false; ends + picks];
    let mut todo = vec![0];
    let mut left = ends + picks - 1;
    seen[0] = true;
    while let Some(thread) = todo.pop() {
        let is_end = thread < ends;
        for other in if is_end { ends..ends + picks } else { 0..ends } {
            let (end, pick) = if is_end { (thread, other - ends) } else { (other, thread - ends) };
            let goes_down = block.warp_up(end, pick) == is_end;
            if goes_down != back && !seen[other] {
                seen[other] = true;
                left -= 1;
                todo.push(other);
            }
        }
    }
    left == 0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weave::Weave;

    fn of(weave: &str) -> Interlacing {
        Interlacing::of(&Weave::parse(weave).unwrap().repeat())
    }

    /// Taylor, *A handbook of cotton manufacture*, page 464: equal firmness is ends × (E+I) ÷ (E+I). Plain has 8 for 4 ends, 2/2
    /// twill 6; 103 ends of plain are 137 1/3 of twill.
    #[test]
    fn taylors_plain_to_twill() {
        let firm = |i: &Interlacing| (i.ends as f64 + i.weft_crossings) / i.ends as f64;
        let (plain, twill) = (of("plain"), of("twill 2/2"));
        assert_eq!((plain.ends, plain.weft_crossings), (2, 2.0));
        assert_eq!((twill.ends, twill.weft_crossings), (4, 2.0));
        let ends = 103.0 * firm(&plain) / firm(&twill);
        assert!((ends - (137.0 + 1.0 / 3.0)).abs() < 1e-9, "{ends}");
        // The same page goes on to the 5-2-1-2 twill: 137 × (40+20)/(40+16).
        let uneven = of("5-2-1-2 twill");
        assert_eq!((uneven.ends, uneven.weft_crossings), (10, 4.0));
        let ends = 137.0 * firm(&twill) / firm(&uneven);
        assert!((ends - 146.8).abs() < 0.05, "{ends}");
    }

    /// Ashenhurst for a yarn of 52 diameters to the inch: plain 26, 2/2 twill 34.8 (the page prints 34).
    #[test]
    fn ashenhurst_setts() {
        let sett = |i: Interlacing| 52.0 * i.ends as f64 / (i.ends as f64 + i.weft_crossings);
        assert_eq!(sett(of("plain")), 26.0);
        assert!((34.0..35.0).contains(&sett(of("twill 2/2"))));
    }

    /// Taylor, pages 427-429: take-up % = k × intersections per inch ÷ count. A 5-end satin at 180 picks has 72; 70s, k 4: 4 %.
    #[test]
    fn taylors_take_up() {
        let rule = |weave, picks: f64, count: f64, k: f64| {
            let i = of(weave);
            k * picks * i.warp_crossings / i.picks as f64 / count
        };
        assert_eq!(180.0 * of("satin 5/2").warp_crossings / 5.0, 72.0);
        assert!((rule("satin 5/2", 180.0, 70.0, 4.0) - 4.0).abs() < 0.2);
        assert!((rule("plain", 120.0, 70.0, 4.0) - (6.0 + 6.0 / 7.0)).abs() < 1e-9);
        assert!((rule("plain", 60.0, 40.0, 3.0) - 4.5).abs() < 1e-9);
    }

    #[test]
    fn floats_and_faces() {
        let twill = of("twill 3/1");
        assert_eq!((twill.longest_warp_float, twill.longest_weft_float), ((3, 1), (1, 3)));
        assert_eq!((twill.warp_float, twill.warp_on_face), (2.0, 0.75));
        let rib = of("rib 2/2");
        assert_eq!((rib.longest_warp_float, rib.longest_weft_float, rib.warp_crossings), ((2, 2), (1, 1), 2.0));
        let satin = of("satin 8/3");
        assert_eq!((satin.longest_warp_float, satin.warp_float), ((7, 1), 4.0));
    }

    #[test]
    fn loose_threads_and_two_cloths_are_told() {
        let loose = Interlacing::of(&Drawdown::from_rows("101/011").unwrap());
        assert_eq!(loose.loose_ends, [2]);
        assert!(!loose.holds_together);
        // Plain cloth of odd ends and odd picks over plain cloth of even ones: every thread is caught, yet there are two.
        let upper_warp = |e: usize, k: usize| match (e % 2, k % 2) {
            (0, 0) | (1, 1) => (e / 2 + k / 2).is_multiple_of(2),
            (0, _) => true,
            _ => false,
        };
        let double = Interlacing::of(&Drawdown::from_fn(4, 4, upper_warp).unwrap());
        assert!(double.loose_ends.is_empty() && double.loose_picks.is_empty() && !double.holds_together);
        assert!(of("plain").holds_together && of("satin 8/3").holds_together);
    }
}
