//! The block of crossings that repeats: at each end and pick, whether the warp lies on the face. Everything that looks at a
//! cloth thread by thread (its picture, its floats, its setting) asks this and nothing else.

use super::{Draft, Fault, Lifts, MOST_CROSSINGS, Set, Shed};
use std::collections::BTreeMap;

/// Crossings of `ends` by `picks`; end 0 is at the left, pick 0 is the first woven and is drawn at the bottom.
#[derive(Clone, PartialEq, Eq)]
pub struct Drawdown {
    ends: usize,
    picks: usize,
    words: usize,
    bits: Vec<u64>,
}

impl Drawdown {
    /// From a rule that says whether the warp is up at (end, pick). Refuses an empty block and one of more than
    /// [`MOST_CROSSINGS`].
    pub fn from_fn(ends: usize, picks: usize, up: impl Fn(usize, usize) -> bool) -> Result<Self, Fault> {
        let mut block = Self::empty(ends, picks)?;
        for pick in 0..picks {
            for end in 0..ends {
                if up(end, pick) {
                    block.bits[pick * block.words + end / 64] |= 1 << (end % 64);
                }
            }
        }
        Ok(block)
    }

    /// From rows of `1` (warp up) and `0`, the first pick first, parted by `/` or white space.
    pub fn from_rows(rows: &str) -> Result<Self, Fault> {
        let rows: Vec<&[u8]> =
            rows.split(|c: char| c == '/' || c.is_whitespace()).filter(|r| !r.is_empty()).map(str::as_bytes).collect();
        let ends = rows.first().map_or(0, |r| r.len());
        if rows.iter().any(|r| r.len() != ends || r.iter().any(|c| !matches!(c, b'0' | b'1'))) {
            return Err(Fault::new("rows of a weave are of one length and hold 0 and 1 only", "for example 10/01"));
        }
        Self::from_fn(ends, rows.len(), |end, pick| rows[pick][end] == b'1')
    }

    fn empty(ends: usize, picks: usize) -> Result<Self, Fault> {
        if ends == 0 || picks == 0 {
            return Err(Fault::new(format!("{ends} ends by {picks} picks is no cloth"), "give at least one of each"));
        }
        if ends.saturating_mul(picks) > MOST_CROSSINGS {
            let message = format!("{ends} ends by {picks} picks without a shorter repeat is too much to look at");
            return Err(Fault::new(message, format!("at most {MOST_CROSSINGS} crossings")));
        }
        let words = ends.div_ceil(64);
        Ok(Drawdown { ends, picks, words, bits: vec![0; words * picks] })
    }

    /// Ends in the block.
    pub fn ends(&self) -> usize {
        self.ends
    }
    /// Picks in the block.
    pub fn picks(&self) -> usize {
        self.picks
    }
    /// Whether the warp is on the face at (end, pick); the block repeats for ever both ways.
    #[inline]
    pub fn warp_up(&self, end: usize, pick: usize) -> bool {
        let (end, pick) = (end % self.ends, pick % self.picks);
        self.bits[pick * self.words + end / 64] >> (end % 64) & 1 == 1
    }
    fn row(&self, pick: usize) -> &[u64] {
        &self.bits[pick * self.words..(pick + 1) * self.words]
    }

    /// Rows of `1` (warp up) and `0`, the first pick first, parted by `/`.
    pub fn rows(&self) -> String {
        let row = |pick| (0..self.ends).map(|end| if self.warp_up(end, pick) { '1' } else { '0' }).collect::<String>();
        (0..self.picks).map(row).collect::<Vec<_>>().join("/")
    }

    /// Ends and picks exchanged, and the face with them: what was pick `k` going over becomes end `k` going over.
    pub fn transposed(&self) -> Self {
        Self::from_fn(self.picks, self.ends, |end, pick| !self.warp_up(pick, end)).expect("as many crossings as before")
    }
    /// As seen from the back, the cloth turned over sideways: left becomes right and what was under is over.
    pub fn turned(&self) -> Self {
        let last = self.ends - 1;
        Self::from_fn(self.ends, self.picks, |end, pick| !self.warp_up(last - end, pick))
            .expect("as many crossings as before")
    }

    /// The least block that, repeated, makes this one.
    pub fn repeat(&self) -> Self {
        let picks = period(self.picks, |a, b| self.row(a) == self.row(b));
        let across = self.transposed();
        let ends = period(self.ends, |a, b| across.row(a) == across.row(b));
        Self::from_fn(ends, picks, |end, pick| self.warp_up(end, pick)).expect("not more crossings than before")
    }

    /// A draft that makes it with as few shafts and treadles as it can: equal ends share a shaft, equal picks a treadle. Refuses
    /// a block that needs more than [`super::MOST_SHAFTS`] of either.
    pub fn draft(&self, name: &str) -> Result<Draft, Fault> {
        let across = self.transposed();
        let shaft_of = classes((0..self.ends).map(|e| across.row(e).to_vec()));
        let treadle_of = classes((0..self.picks).map(|k| self.row(k).to_vec()));
        let (shafts, treadles) = (most(&shaft_of), most(&treadle_of));
        for (number, what) in [(shafts, "shafts"), (treadles, "treadles")] {
            if number > super::MOST_SHAFTS {
                let message = format!("this weave needs {number} {what}");
                return Err(Fault::new(message, format!("at most {} are known here", super::MOST_SHAFTS)));
            }
        }
        let first_end = |shaft| shaft_of.iter().position(|&s| s == shaft).unwrap_or(0);
        let first_pick = |treadle| treadle_of.iter().position(|&t| t == treadle).unwrap_or(0);
        let ends: Vec<usize> = (1..=shafts).map(first_end).collect();
        let tie = |pick: usize| {
            ends.iter().enumerate().filter(|&(_, &e)| self.warp_up(e, pick)).map(|(s, _)| s + 1).collect()
        };
        let tieup: Vec<Set> = (1..=treadles).map(|t| tie(first_pick(t))).collect();
        let treadling = treadle_of.iter().map(|&t| Set::of(&[t])).collect();
        let threading = shaft_of.iter().map(|&s| Set::of(&[s])).collect();
        Draft::new(name, shafts, threading, Lifts::Treadled { tieup, treadling }, Shed::Rising)
    }
}

impl std::fmt::Debug for Drawdown {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if self.ends * self.picks <= 1024 {
            f.write_str(&self.rows())
        } else {
            write!(f, "{} x {}", self.ends, self.picks)
        }
    }
}

/// The shortest run after which a sequence of `n` things begins again; `n` when it does not do so at least once in full.
pub(crate) fn period(n: usize, same: impl Fn(usize, usize) -> bool) -> usize {
    // The borders of the prefixes, as in Knuth, Morris and Pratt's search.
    let mut border = vec![0usize; n];
    for i in 1..n {
        let mut b = border[i - 1];
        while b > 0 && !same(i, b) {
            b = border[b - 1];
        }
        border[i] = b + usize::from(same(i, b));
    }
    let least = n - border.last().copied().unwrap_or(0);
    if least > 0 && (n.is_multiple_of(least) || n >= 2 * least) { least } else { n }
}

/// Numbers from 1 for equal things, in the order they are met.
fn classes<T: Ord>(things: impl Iterator<Item = T>) -> Vec<usize> {
    let mut seen = BTreeMap::new();
    things
        .map(|thing| {
            let next = seen.len() + 1;
            *seen.entry(thing).or_insert(next)
        })
        .collect()
}

fn most(numbers: &[usize]) -> usize {
    numbers.iter().copied().max().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_least_block_is_found() {
        let twill = Drawdown::from_rows("1100/0110/0011/1001").unwrap();
        let wide = Drawdown::from_fn(12, 9, |e, k| twill.warp_up(e, k)).unwrap();
        assert_eq!(wide.repeat(), twill);
        assert_eq!(period(5, |a, b| b"ABABA"[a] == b"ABABA"[b]), 2);
        assert_eq!(period(4, |a, b| b"ABCA"[a] == b"ABCA"[b]), 4, "begun again but not once in full");
    }

    #[test]
    fn a_block_comes_back_from_its_draft() {
        for rows in ["10/01", "1100/0110/0011/1001", "1100/1100/0011/0011", "11110/11011/01111/11101/10111"] {
            let block = Drawdown::from_rows(rows).unwrap();
            assert_eq!(block.draft("").unwrap().drawdown().unwrap(), block);
        }
        assert_eq!(Drawdown::from_rows("1100/1100/0011/0011").unwrap().draft("").unwrap().shafts(), 2);
    }

    #[test]
    fn turning_over_twice_gives_the_face_again() {
        let block = Drawdown::from_rows("1000/0110/0011").unwrap();
        assert_eq!(block.turned().rows(), "1110/1001/0011");
        assert_eq!(block.turned().turned(), block);
        assert_eq!(block.transposed().transposed(), block);
    }

    #[test]
    fn too_large_and_empty_are_refused() {
        assert!(Drawdown::from_fn(usize::MAX, 3, |_, _| true).is_err());
        assert!(Drawdown::from_fn(0, 3, |_, _| true).is_err());
        assert!(Drawdown::from_rows("10/0").is_err() && Drawdown::from_rows("12/01").is_err());
    }
}
