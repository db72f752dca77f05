//! A set of shafts or treadles, numbered from 1, as bits. Small enough to copy, so that whether a shaft is lifted costs a few
//! instructions however long the draft is.

use super::MOST_SHAFTS;

const WORDS: usize = MOST_SHAFTS / 64;

/// Shafts or treadles, numbered 1 to [`MOST_SHAFTS`].
#[derive(Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Set([u64; WORDS]);

impl Set {
    /// Nothing in it.
    pub const EMPTY: Set = Set([0; WORDS]);

    /// Of the numbers given; those out of range are left out.
    pub fn of(numbers: &[usize]) -> Self {
        numbers.iter().copied().collect()
    }
    /// Puts `number` in; `false` when it is out of range.
    pub fn insert(&mut self, number: usize) -> bool {
        let fits = (1..=MOST_SHAFTS).contains(&number);
        if fits {
            self.0[(number - 1) / 64] |= 1 << ((number - 1) % 64);
        }
        fits
    }
    /// Whether `number` is in it.
    pub fn contains(&self, number: usize) -> bool {
        (1..=MOST_SHAFTS).contains(&number) && self.0[(number - 1) / 64] >> ((number - 1) % 64) & 1 == 1
    }
    /// Whether the two share a number.
    pub fn meets(&self, other: &Set) -> bool {
        self.0.iter().zip(&other.0).any(|(a, b)| a & b != 0)
    }
    /// What is in either.
    pub fn union(&self, other: &Set) -> Set {
        Set(std::array::from_fn(|i| self.0[i] | other.0[i]))
    }
    /// What of 1 to `most` is not in it.
    pub fn others(&self, most: usize) -> Set {
        (1..=most.min(MOST_SHAFTS)).filter(|&n| !self.contains(n)).collect()
    }
    /// The numbers, rising.
    pub fn iter(&self) -> impl Iterator<Item = usize> + '_ {
        self.0
            .iter()
            .enumerate()
            .flat_map(|(w, &word)| (0..64).filter(move |b| word >> b & 1 == 1).map(move |b| w * 64 + b + 1))
    }
    /// How many.
    pub fn len(&self) -> usize {
        self.0.iter().map(|w| w.count_ones() as usize).sum()
    }
    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.0 == [0; WORDS]
    }
    /// The least number.
    pub fn first(&self) -> Option<usize> {
        self.iter().next()
    }
    /// The greatest number.
    pub fn last(&self) -> Option<usize> {
        self.iter().last()
    }
}

impl FromIterator<usize> for Set {
    fn from_iter<I: IntoIterator<Item = usize>>(numbers: I) -> Self {
        let mut set = Set::EMPTY;
        for number in numbers {
            set.insert(number);
        }
        set
    }
}

impl std::fmt::Debug for Set {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_set().entries(self.iter()).finish()
    }
}

impl std::fmt::Display for Set {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        for (i, number) in self.iter().enumerate() {
            if i > 0 {
                f.write_str(",")?;
            }
            write!(f, "{number}")?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_go_in_and_come_out_in_order() {
        let set = Set::of(&[256, 3, 64, 65, 0, 257]);
        assert_eq!(set.iter().collect::<Vec<_>>(), [3, 64, 65, 256]);
        assert_eq!(set.to_string(), "3,64,65,256");
        assert!(set.meets(&Set::of(&[1, 65])) && !set.meets(&Set::of(&[1, 66])));
        assert_eq!(Set::of(&[1, 3]).others(4), Set::of(&[2, 4]));
    }
}
