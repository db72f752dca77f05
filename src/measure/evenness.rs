//! Evenness: the chart of the bobbins, which of them go to warp and which to weft, and the order that hides stripes.
//!
//! A stripe is seen where the mean count of neighbouring threads changes by a step; single threads that differ are not seen
//! from reading distance. So the criterion is the *step*: the greatest difference between the mean counts of neighbouring
//! bands of [`BAND`] threads, as a share of the mean. What step an eye sees is common practice, no source: about 3 %.

use super::watch::odd_ones;
use crate::units::{Length, LinearDensity, Q, Ratio};

/// Threads in a band: about a centimetre of shirt cloth.
pub const BAND: usize = 12;

/// A finished bobbin or skein.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bobbin {
    /// The maker's own number of it.
    pub name: u32,
    pub count: Q<LinearDensity>,
    pub length: Q<Length>,
}

/// A bobbin on the chart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    pub bobbin: Bobbin,
    /// Count ÷ mean − 1.
    pub off: Q<Ratio>,
    /// Whether it does not belong to the rest.
    pub odd: bool,
}

/// The chart's data, in the order the bobbins were spun.
#[derive(Clone, Debug, Default)]
pub struct Chart {
    pub marks: Vec<Mark>,
    /// Mean count, by length.
    pub mean: Option<Q<LinearDensity>>,
    /// Standard deviation between bobbins ÷ mean, when there are two.
    pub spread: Option<Q<Ratio>>,
}

/// Mean by length; nothing without any length.
fn mean(bobbins: &[Bobbin]) -> Option<Q<LinearDensity>> {
    let length: f64 = bobbins.iter().map(|b| b.length.to_si()).sum();
    let mass: f64 = bobbins.iter().map(|b| b.length.to_si() * b.count.to_si()).sum();
    (length > 0.0).then(|| Q::si(mass / length))
}

/// The chart of `bobbins`.
pub fn chart(bobbins: &[Bobbin]) -> Chart {
    let Some(mean) = mean(bobbins) else { return Chart::default() };
    let counts: Vec<_> = bobbins.iter().map(|b| b.count).collect();
    let odd = odd_ones(&counts, bobbins.len() / 4);
    let off = |b: &Bobbin| b.count / mean - 1.0;
    let mark = |(i, b): (usize, &Bobbin)| Mark { bobbin: *b, off: Q::si(off(b)), odd: odd.contains(&i) };
    let n = bobbins.len() as f64;
    let centre = bobbins.iter().map(off).sum::<f64>() / n;
    let squares: f64 = bobbins.iter().map(|b| (off(b) - centre) * (off(b) - centre)).sum();
    let spread = (bobbins.len() > 1).then(|| Q::si(libm::sqrt(squares / (n - 1.0))));
    Chart { marks: bobbins.iter().enumerate().map(mark).collect(), mean: Some(mean), spread }
}

/// Which bobbins go where.
#[derive(Clone, Debug, PartialEq)]
pub struct Shares {
    /// By count, finest first.
    pub warp: Vec<Bobbin>,
    pub weft: Vec<Bobbin>,
    /// Kept out: not like the others, and not needed.
    pub aside: Vec<Bobbin>,
    /// Whether the warp has its length.
    pub warp_full: bool,
    /// Whether the weft has its length, the bobbins set aside not counted.
    pub weft_full: bool,
}

/// Splits `bobbins` so that the warp, where a step shows as a stripe over the whole length and one weak thread stops the work,
/// has the set of least difference between its thickest and thinnest bobbin that is long enough. Odd bobbins are used only
/// when there is not enough without. Among equal sets the one nearest the mean count wins.
pub fn share_out(bobbins: &[Bobbin], warp: Q<Length>, weft: Q<Length>) -> Shares {
    let marks = chart(bobbins).marks;
    let total = |list: &[Bobbin]| list.iter().map(|b| b.length.to_si()).sum::<f64>();
    let mut good: Vec<Bobbin> = marks.iter().filter(|m| !m.odd).map(|m| m.bobbin).collect();
    let mut aside: Vec<Bobbin> = marks.iter().filter(|m| m.odd).map(|m| m.bobbin).collect();
    if total(&good) < warp.to_si() + weft.to_si() {
        // Needed after all.
        good.append(&mut aside);
    }
    by_count(&mut good);
    by_count(&mut aside);
    let all = || (0..good.len()).collect::<Vec<_>>();
    let chosen = warp_set(&good, warp, weft).or_else(|| warp_set(&good, warp, Q::si(0.0))).unwrap_or_else(all);
    let part = |inside: bool| -> Vec<Bobbin> {
        (0..good.len()).filter(|i| chosen.contains(i) == inside).map(|i| good[i]).collect()
    };
    let (warp_bobbins, weft_bobbins) = (part(true), part(false));
    let (warp_full, weft_full) = (total(&warp_bobbins) >= warp.to_si(), total(&weft_bobbins) >= weft.to_si());
    Shares { warp: warp_bobbins, weft: weft_bobbins, aside, warp_full, weft_full }
}

fn by_count(bobbins: &mut [Bobbin]) {
    bobbins.sort_by(|a, b| a.count.to_si().total_cmp(&b.count.to_si()).then(a.name.cmp(&b.name)));
}

/// Of sorted bobbins the set of least difference in count that has the length and leaves `weft`. Whatever lies between its ends
/// may be added without cost; what is not needed there is left for the weft, the longest first.
fn warp_set(sorted: &[Bobbin], need: Q<Length>, weft: Q<Length>) -> Option<Vec<usize>> {
    let mean = mean(sorted)?.to_si();
    let length = |i: usize| sorted[i].length.to_si();
    let total: f64 = (0..sorted.len()).map(length).sum();
    let mut best: Option<((f64, f64), Vec<usize>)> = None;
    for from in 0..sorted.len() {
        let mut sum = 0.0;
        for to in from..sorted.len() {
            sum += length(to);
            let (thin, thick) = (sorted[from].count.to_si(), sorted[to].count.to_si());
            let key = (thick - thin, (0.5 * (thick + thin) - mean).abs());
            if sum < need.to_si() || best.as_ref().is_some_and(|b| b.0 <= key) {
                continue;
            }
            let mut spare = sum - need.to_si();
            let mut inside: Vec<usize> = (from + 1..to).collect();
            inside.sort_by(|&a, &b| length(b).total_cmp(&length(a)).then(a.cmp(&b)));
            let dropped: Vec<usize> = inside
                .into_iter()
                .filter(|&i| {
                    let fits = length(i) <= spare;
                    spare -= if fits { length(i) } else { 0.0 };
                    fits
                })
                .collect();
            let set: Vec<usize> = (from..=to).filter(|i| !dropped.contains(i)).collect();
            if total - set.iter().map(|&i| length(i)).sum::<f64>() >= weft.to_si() {
                best = Some((key, set));
            }
        }
    }
    best.map(|b| b.1)
}

/// An order of threads.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// Groups of bobbins in hand at the same time, in the order they are used; within a group threads are taken in turn.
    pub groups: Vec<Vec<u32>>,
    /// Bobbin of each thread: indices into the list given.
    pub threads: Vec<usize>,
    /// The greatest step between neighbouring bands.
    pub step: Q<Ratio>,
    /// The same when bobbins are used up one after another as they were spun.
    pub step_as_spun: Q<Ratio>,
}

/// Threads beyond which the order is not worked out singly.
pub const MOST_THREADS: usize = 20_000;

/// The order that hides stripes: thick and thin are in hand together and taken in turn, `in_hand` bobbins at once (1 to 8; two
/// shuttles are 2), and groups follow each other so that the step between them is least. `thread` is the length one pick or
/// one end takes. Nothing when there are more than [`MOST_THREADS`] threads or none.
pub fn interleave(bobbins: &[Bobbin], thread: Q<Length>, in_hand: usize) -> Option<Order> {
    if thread.to_si() <= 0.0 {
        return None;
    }
    let quota: Vec<usize> = bobbins.iter().map(|b| (b.length / thread).clamp(0.0, 1e9) as usize).collect();
    let total: usize = quota.iter().sum();
    if total == 0 || total > MOST_THREADS {
        return None;
    }
    let counts: Vec<f64> = bobbins.iter().map(|b| b.count.to_si()).collect();
    let as_spun = one_after_another(bobbins, thread);
    let step_as_spun = step(&as_spun, &counts);
    let mut best = (step_as_spun, as_spun, (0..bobbins.len()).map(|i| vec![i]).collect::<Vec<_>>());
    for hand in 1..=in_hand.clamp(1, 8) {
        for groups in [paired(&counts, &quota, hand), runs(&counts, &quota, hand)] {
            let groups = smooth(groups, &counts, &quota);
            let threads: Vec<usize> = groups.iter().flat_map(|g| take_in_turn(g, &quota)).collect();
            let found = step(&threads, &counts);
            if found < best.0 {
                best = (found, threads, groups);
            }
        }
    }
    let names = best.2.iter().map(|g| g.iter().map(|&i| bobbins[i].name).collect()).collect();
    Some(Order { groups: names, threads: best.1, step: Q::si(best.0), step_as_spun: Q::si(step_as_spun) })
}

/// Groups of a thick, a thin and what lies between.
fn paired(counts: &[f64], quota: &[usize], hand: usize) -> Vec<Vec<usize>> {
    let order = sorted(counts, quota);
    let how_many = order.len().div_ceil(hand);
    let mut groups = vec![Vec::new(); how_many];
    for (place, &i) in order.iter().enumerate() {
        // There and back again over the groups, so that each gets thick and thin alike.
        let (lap, at) = (place / how_many, place % how_many);
        groups[if lap % 2 == 0 { at } else { how_many - 1 - at }].push(i);
    }
    groups
}

/// Groups of neighbours in count: a slow slope instead of steps.
fn runs(counts: &[f64], quota: &[usize], hand: usize) -> Vec<Vec<usize>> {
    sorted(counts, quota).chunks(hand).map(<[usize]>::to_vec).collect()
}

fn sorted(counts: &[f64], quota: &[usize]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..counts.len()).filter(|&i| quota[i] > 0).collect();
    order.sort_by(|&a, &b| counts[a].total_cmp(&counts[b]).then(a.cmp(&b)));
    order
}

/// Orders groups by their mean count: neighbours then differ least.
fn smooth(mut groups: Vec<Vec<usize>>, counts: &[f64], quota: &[usize]) -> Vec<Vec<usize>> {
    let mean = |g: &Vec<usize>| {
        let n: usize = g.iter().map(|&i| quota[i]).sum();
        g.iter().map(|&i| counts[i] * quota[i] as f64).sum::<f64>() / n.max(1) as f64
    };
    groups.retain(|g| !g.is_empty());
    groups.sort_by(|a, b| mean(a).total_cmp(&mean(b)).then(a.cmp(b)));
    groups
}

/// Threads of one group, each bobbin in proportion to its length, as evenly as whole threads allow.
fn take_in_turn(group: &[usize], quota: &[usize]) -> Vec<usize> {
    let total: usize = group.iter().map(|&i| quota[i]).sum();
    let mut taken = vec![0_usize; group.len()];
    let mut threads = Vec::with_capacity(total);
    for k in 1..=total {
        // The bobbin furthest behind its share of k threads.
        let behind = |j: usize| quota[group[j]] * k;
        let mut next = 0;
        let mut most = i128::MIN;
        for (j, &had) in taken.iter().enumerate() {
            let lag = behind(j) as i128 - (had * total) as i128;
            if had < quota[group[j]] && lag > most {
                (most, next) = (lag, j);
            }
        }
        taken[next] += 1;
        threads.push(group[next]);
    }
    threads
}

/// Mean count of each band of [`BAND`] threads after another, over the mean of all, less one: what the eye sees of an order.
pub fn bands(threads: &[usize], bobbins: &[Bobbin]) -> Vec<Q<Ratio>> {
    let counts: Vec<f64> = threads.iter().filter_map(|&t| bobbins.get(t)).map(|b| b.count.to_si()).collect();
    let mean = counts.iter().sum::<f64>() / counts.len().max(1) as f64;
    counts.chunks(BAND).map(|band| Q::si(band.iter().sum::<f64>() / band.len() as f64 / mean - 1.0)).collect()
}

/// Threads as they come when bobbins are used up one after another.
pub fn one_after_another(bobbins: &[Bobbin], thread: Q<Length>) -> Vec<usize> {
    let threads = |b: &Bobbin| (b.length / thread).clamp(0.0, MOST_THREADS as f64) as usize;
    let mut list: Vec<usize> =
        bobbins.iter().enumerate().flat_map(|(i, b)| std::iter::repeat_n(i, threads(b))).collect();
    list.truncate(MOST_THREADS);
    list
}

/// The greatest difference between neighbouring bands' mean counts ÷ the mean of all.
pub fn step(threads: &[usize], counts: &[f64]) -> f64 {
    if threads.len() < 2 * BAND {
        return 0.0;
    }
    let mut sums = Vec::with_capacity(threads.len() + 1);
    sums.push(0.0);
    for &t in threads {
        sums.push(sums[sums.len() - 1] + counts[t]);
    }
    let mean = sums[threads.len()] / threads.len() as f64;
    let band = |from: usize| (sums[from + BAND] - sums[from]) / BAND as f64;
    (0..=threads.len() - 2 * BAND).map(|i| (band(i + BAND) - band(i)).abs()).fold(0.0, f64::max) / mean
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::TEX;

    fn bobbins(list: &[(f64, f64)]) -> Vec<Bobbin> {
        let one = |(i, &(tex, m)): (usize, &(f64, f64))| Bobbin {
            name: i as u32 + 1,
            count: Q::new(tex, &TEX),
            length: Q::si(m),
        };
        list.iter().enumerate().map(one).collect()
    }

    #[test]
    fn the_warp_gets_the_set_of_least_difference() {
        let list = bobbins(&[(50.0, 300.0), (58.0, 400.0), (51.0, 350.0), (46.0, 300.0), (52.0, 320.0), (49.5, 310.0)]);
        let shares = share_out(&list, Q::si(900.0), Q::si(600.0));
        let mut names: Vec<u32> = shares.warp.iter().map(|b| b.name).collect();
        names.sort_unstable();
        assert_eq!(names, [1, 3, 6]);
        assert!(shares.warp_full && shares.weft_full);
    }

    #[test]
    fn an_odd_bobbin_is_set_aside_unless_it_is_needed() {
        let list: Vec<_> = [50.0, 50.5, 49.8, 50.2, 49.7, 50.1, 50.4, 70.0].map(|t| (t, 300.0)).to_vec();
        let list = bobbins(&list);
        let shares = share_out(&list, Q::si(1000.0), Q::si(900.0));
        assert_eq!(shares.aside.len(), 1);
        assert_eq!(shares.aside[0].name, 8);
        assert!(share_out(&list, Q::si(1200.0), Q::si(1200.0)).aside.is_empty());
        assert!(!share_out(&list, Q::si(1e6), Q::si(0.0)).warp_full);
    }

    #[test]
    fn two_shuttles_hide_what_one_shows() {
        let list = bobbins(&[(46.0, 200.0), (54.0, 200.0), (47.0, 200.0), (53.0, 200.0)]);
        let order = interleave(&list, Q::si(0.7), 2).unwrap();
        assert!(order.step_as_spun.to_si() > 0.12 && order.step.to_si() < 0.03, "{order:?}");
        let used = |i: usize| order.threads.iter().filter(|&&t| t == i).count();
        assert!((0..4).all(|i| used(i) == 285));
        assert!(interleave(&list, Q::si(0.0), 2).is_none() && interleave(&list, Q::si(1e-6), 2).is_none());
        assert!(interleave(&[], Q::si(1.0), 2).is_none());
    }
}
