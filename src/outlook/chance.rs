//! Chance that can be replayed: trial *i* depends on (seed, *i*) alone, whatever the number of threads.

/// The sequence is documented to 2^16 points; longer runs are replicates of this many with a scramble of their own, and the spread from
/// replicate to replicate is also the error of a mean.
pub const REPLICATE: usize = 1 << 13;

/// A number in (0, 1) for trial `at` and dimension `dimension`, quasi-random over the trials of a replicate.
pub fn uniform(seed: u32, at: usize, dimension: u32) -> f64 {
    uniforms(seed, at, dimension / 4)[(dimension % 4) as usize]
}

/// The same for four dimensions at once, sooner than four times one: `4 * four` and the three after it.
pub fn uniforms(seed: u32, at: usize, four: u32) -> [f64; 4] {
    let replicate = (at / REPLICATE) as u32;
    let scramble = seed ^ replicate.wrapping_mul(0x9E37_79B9);
    // the middle of the cell of the 24-bit number that comes back: never 0, never 1
    sobol_burley::sample_4d((at % REPLICATE) as u32, four, scramble).map(|u| f64::from(u) + 0.5 / 16_777_216.0)
}

/// 90 % point of the standard normal.
pub const Z90: f64 = 1.281_551_565_544_6;

/// Inverse of the standard normal distribution: Acklam's rational approximation, relative error below 1.2e-9.
pub fn normal(u: f64) -> f64 {
    if in_tail(u) { tail(u) } else { middle([u])[0] }
}

/// The same of four numbers at once, sooner than four times one.
pub fn normals(u: [f64; 4]) -> [f64; 4] {
    let mut z = middle(u);
    for (z, u) in z.iter_mut().zip(u).filter(|(_, u)| in_tail(*u)) {
        *z = tail(u);
    }
    z
}

/// Where the middle formula no longer holds, on either side.
const TAIL: f64 = 0.024_25;

fn in_tail(u: f64) -> bool {
    !(TAIL..=1.0 - TAIL).contains(&u)
}

fn middle<const N: usize>(u: [f64; N]) -> [f64; N] {
    const A: [f64; 6] = [
        -39.696_830_286_653_76,
        220.946_098_424_520_5,
        -275.928_510_446_968_7,
        138.357_751_867_269,
        -30.664_798_066_147_16,
        2.506_628_277_459_239,
    ];
    const B: [f64; 5] = [
        -54.476_098_798_224_06,
        161.585_836_858_040_9,
        -155.698_979_859_886_6,
        66.801_311_887_719_72,
        -13.280_681_552_885_72,
    ];
    let q = u.map(|u| u - 0.5);
    // step by step for all of them, so that they are reckoned side by side
    let (mut above, mut below) = ([A[0]; N], [B[0]; N]);
    for a in &A[1..] {
        above.iter_mut().zip(q).for_each(|(above, q)| *above = *above * (q * q) + a);
    }
    for b in B[1..].iter().chain(&[1.0]) {
        below.iter_mut().zip(q).for_each(|(below, q)| *below = *below * (q * q) + b);
    }
    std::array::from_fn(|i| above[i] * q[i] / below[i])
}

fn tail(u: f64) -> f64 {
    const C: [f64; 6] = [
        -0.007_784_894_002_430_293,
        -0.322_396_458_041_136_5,
        -2.400_758_277_161_838,
        -2.549_732_539_343_734,
        4.374_664_141_464_968,
        2.938_163_982_698_783,
    ];
    const D: [f64; 4] =
        [0.007_784_695_709_041_462, 0.322_467_129_070_039_8, 2.445_134_137_142_996, 3.754_408_661_907_416];
    let (u, sign) = if u < 0.5 { (u, 1.0) } else { (1.0 - u, -1.0) };
    let q = (-2.0 * libm::log(u)).sqrt();
    sign * (((((C[0] * q + C[1]) * q + C[2]) * q + C[3]) * q + C[4]) * q + C[5])
        / ((((D[0] * q + D[1]) * q + D[2]) * q + D[3]) * q + 1.0)
}

/// A doubt as a distribution: two half-normals that meet at the middle, with these 10 % and 90 % points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Doubt {
    pub slot: u16,
    pub low: f64,
    pub middle: f64,
    pub high: f64,
    /// Cut off here, the range of validity.
    pub least: f64,
    pub most: f64,
}

impl Doubt {
    /// The value at a share of the distribution.
    pub fn at(&self, u: f64) -> f64 {
        self.of(normal(u))
    }

    /// The value so many standard deviations of a normal distribution from the middle.
    pub fn of(&self, z: f64) -> f64 {
        let side = if z < 0.0 { self.middle - self.low } else { self.high - self.middle };
        (self.middle + z / Z90 * side).clamp(self.least, self.most)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_inverse_normal_meets_the_table() {
        // Abramowitz & Stegun, table 26.1, from memory
        for (u, z) in [(0.5, 0.0), (0.841_344_746, 1.0), (0.977_249_868, 2.0), (0.998_650_102, 3.0), (0.1, -Z90)] {
            assert!((normal(u) - z).abs() < 1e-6, "{u}: {}", normal(u));
        }
    }

    #[test]
    fn four_at_once_are_each_alone() {
        for at in 0..2000 {
            let u = uniforms(3, at, 5);
            assert_eq!(normals(u), u.map(normal));
            assert_eq!(u[2], uniform(3, at, 22));
        }
        assert!((normal(0.01) + normal(0.99)).abs() < 1e-9 && normal(0.01) < -2.0);
    }

    #[test]
    fn a_doubt_has_the_points_it_was_given() {
        let doubt = Doubt { slot: 0, low: 28.0, middle: 34.0, high: 38.0, least: 5.0, most: 60.0 };
        assert!(
            (doubt.at(0.1) - 28.0).abs() < 1e-6
                && (doubt.at(0.5) - 34.0).abs() < 1e-6
                && (doubt.at(0.9) - 38.0).abs() < 1e-6
        );
    }

    #[test]
    fn trials_replay() {
        assert_eq!(uniform(7, 12_345, 3), uniform(7, 12_345, 3));
        assert_ne!(uniform(7, 12_345, 3), uniform(8, 12_345, 3));
        let mean: f64 = (0..REPLICATE).map(|at| uniform(1, at, 2)).sum::<f64>() / REPLICATE as f64;
        assert!((mean - 0.5).abs() < 1e-4, "{mean}");
    }
}
