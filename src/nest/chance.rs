//! Chance from a seed, the same on every machine.

use rand_pcg::Pcg32;
use rand_pcg::rand_core::{Rng, SeedableRng};

/// A stream of chance; stream `n` of a seed does not depend on the others.
#[derive(Clone, Debug)]
pub(super) struct Chance(Pcg32);

impl Chance {
    pub fn new(seed: u64, stream: u64) -> Self {
        Chance(Pcg32::seed_from_u64(seed ^ stream.wrapping_mul(0x9E37_79B9_7F4A_7C15)))
    }

    /// 0 to just under 1.
    pub fn unit(&mut self) -> f32 {
        (self.0.next_u32() >> 8) as f32 * (1.0 / 16_777_216.0)
    }

    /// `from` to `to`; `from` when the range is empty.
    pub fn between(&mut self, from: f32, to: f32) -> f32 {
        from + self.unit() * (to - from).max(0.0)
    }

    /// A whole number below `n`, which is above 0.
    pub fn below(&mut self, n: usize) -> usize {
        ((u64::from(self.0.next_u32()) * n as u64) >> 32) as usize
    }

    pub fn shuffle<T>(&mut self, list: &mut [T]) {
        for i in (1..list.len()).rev() {
            list.swap(i, self.below(i + 1));
        }
    }
}
