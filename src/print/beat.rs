//! Where two lattices beat: rows of dots, the screen's threads and the cloth's own threads each have their spatial frequencies, and a
//! difference between two of them that is small shows as stripes. Frequencies are per millimetre, x to the right and y up.

use kurbo::Vec2;

/// A lattice: the frequencies of its two sets of lines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lattice {
    /// What it is, for words: "the mesh".
    pub name: &'static str,
    pub lines: [Vec2; 2],
    /// How much of it shows in the print, 0 to 1.
    pub shows: f64,
}

impl Lattice {
    /// Lines at right angles, so many a millimetre each way, turned by degrees up from the foot.
    pub fn turned(name: &'static str, per_mm: [f64; 2], degrees: f64) -> Lattice {
        let (sin, cos) = (libm::sin(degrees.to_radians()), libm::cos(degrees.to_radians()));
        Lattice { name, lines: [Vec2::new(cos, sin) * per_mm[0], Vec2::new(-sin, cos) * per_mm[1]], shows: 1.0 }
    }
    /// The same, of which only a share shows.
    pub fn showing(self, shows: f64) -> Lattice {
        Lattice { shows, ..self }
    }
    /// The coarser of its spacings, mm.
    pub fn spacing(&self) -> f64 {
        1.0 / self.lines[0].hypot().min(self.lines[1].hypot()).max(1e-9)
    }
}

/// A beat of two lattices.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beat {
    pub between: [&'static str; 2],
    /// Frequency, per mm.
    pub at: Vec2,
    /// How strong beside the lattices themselves, 0 to 1.
    pub strength: f64,
}

impl Beat {
    /// From stripe to stripe, mm.
    pub fn period(&self) -> f64 {
        1.0 / self.at.hypot().max(1e-12)
    }
}

/// Overtones looked at: the sum of both numbers.
const OVERTONES: i32 = 4;
/// Shortest period that shows beside the lattices, in the coarser spacing.
const SHOWS: f64 = 2.0;
/// Longest period that is a stripe and not a shade, mm.
const LONGEST: f64 = 300.0;
/// Strength from which stripes are seen on cloth; a choice after looking at pictures of products of lattices.
pub const SEEN: f64 = 0.045;

/// All beats that would show, the strongest first.
pub fn beats(a: &Lattice, b: &Lattice) -> Vec<Beat> {
    let tones: Vec<(i32, i32)> = (-OVERTONES..=OVERTONES)
        .flat_map(|m| (-OVERTONES..=OVERTONES).map(move |n| (m, n)))
        .filter(|(m, n)| (1..=OVERTONES).contains(&(m.abs() + n.abs())))
        .collect();
    let frequency =
        |lattice: &Lattice, (m, n): (i32, i32)| lattice.lines[0] * f64::from(m) + lattice.lines[1] * f64::from(n);
    // an overtone of lines that are half ink and half none falls with the square, one way only is stronger than crosswise
    let strength = |(m, n): (i32, i32)| {
        let one = |k: i32| if k == 0 { 1.0 } else { 0.64 / f64::from(k * k) };
        one(m) * one(n)
    };
    let coarse = a.spacing().max(b.spacing());
    let mut found = Vec::new();
    for ta in &tones {
        // each beat comes twice, once turned round
        if *ta < (0, 0) {
            continue;
        }
        for tb in &tones {
            let at = frequency(a, *ta) - frequency(b, *tb);
            let period = 1.0 / at.hypot().max(1e-12);
            if period > SHOWS * coarse && period < LONGEST {
                found.push(Beat {
                    between: [a.name, b.name],
                    at,
                    strength: a.shows * b.shows * strength(*ta) * strength(*tb),
                });
            }
        }
    }
    found.sort_by(|p, q| {
        q.strength.total_cmp(&p.strength).then(p.at.x.total_cmp(&q.at.x)).then(p.at.y.total_cmp(&q.at.y))
    });
    found
}

/// The strongest beat of some lattices with each other, if one shows.
pub fn worst(lattices: &[Lattice]) -> Option<Beat> {
    let mut worst: Option<Beat> = None;
    for (at, a) in lattices.iter().enumerate() {
        for b in &lattices[at + 1..] {
            if let Some(beat) = beats(a, b).first()
                && worst.is_none_or(|old| beat.strength > old.strength)
            {
                worst = Some(*beat);
            }
        }
    }
    worst
}

/// Angles that a film is turned by, degrees (`mesh-faq` prints the offsets of 7.5 from the usual ones).
const ANGLES: [f64; 11] = [22.5, 30.0, 15.0, 37.5, 52.5, 60.0, 67.5, 75.0, 7.5, 82.5, 45.0];

/// The angle of rows of dots that beats least with the other lattices, and what is left.
pub fn angle(per_mm: f64, others: &[Lattice]) -> (f64, Option<Beat>) {
    let strength = |beat: &Option<Beat>| beat.map_or(0.0, |b| b.strength);
    let of = |angle: f64| {
        let dots = Lattice::turned("the dots", [per_mm, per_mm], angle);
        let found = others.iter().filter_map(|other| beats(&dots, other).first().copied());
        (angle, found.max_by(|a, b| a.strength.total_cmp(&b.strength)))
    };
    let best = ANGLES.map(of).into_iter().min_by(|a, b| strength(&a.1).total_cmp(&strength(&b.1)));
    best.unwrap_or((22.5, None))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The prediction against the picture: two lattices laid over each other, and the spectrum of their product at low frequencies.
    #[test]
    fn the_strongest_beat_is_where_the_product_has_its_peak() {
        let cases = [
            (Lattice::turned("a", [1.5, 1.5], 0.0), Lattice::turned("b", [1.7, 1.7], 0.0)),
            (Lattice::turned("a", [1.5, 1.4], 0.0), Lattice::turned("b", [1.45, 1.45], 8.0)),
            (Lattice::turned("a", [1.5, 1.5], 0.0), Lattice::turned("b", [0.72, 0.72], 3.0)),
        ];
        for (a, b) in cases {
            let beat = beats(&a, &b)[0];
            // three overtones, so that the sampling makes no beats of its own
            let line = |k: Vec2, x: f64, y: f64| {
                let turn = std::f64::consts::TAU * (k.x * x + k.y * y);
                0.5 + 0.5 * libm::cos(turn) + 0.25 * libm::cos(2.0 * turn) + 0.1 * libm::cos(3.0 * turn)
            };
            let cover = |l: &Lattice, x: f64, y: f64| {
                let (p, q) = (line(l.lines[0], x, y), line(l.lines[1], x, y));
                p + q - p * q
            };
            let (side, step) = (160, 0.125);
            let power = |k: Vec2| {
                let (mut re, mut im, mut weight) = (0.0, 0.0, 0.0);
                for j in 0..side {
                    for i in 0..side {
                        let (x, y) = (f64::from(i) * step, f64::from(j) * step);
                        let bell = |t: i32| {
                            0.5 - 0.5 * libm::cos(std::f64::consts::TAU * (f64::from(t) + 0.5) / f64::from(side))
                        };
                        let w = bell(i) * bell(j);
                        let v = cover(&a, x, y) * cover(&b, x, y) - 0.5625;
                        let turn = std::f64::consts::TAU * (k.x * x + k.y * y);
                        (re, im, weight) = (re + w * v * libm::cos(turn), im + w * v * libm::sin(turn), weight + w);
                    }
                }
                libm::hypot(re, im) / weight
            };
            let mut best = (0.0, Vec2::ZERO);
            let limit = 1.0 / (SHOWS * a.spacing().max(b.spacing()));
            for j in 0..=12 {
                for i in -12..=12 {
                    let k = Vec2::new(f64::from(i), f64::from(j)) * (limit / 12.0);
                    if k.hypot() > 0.12 && k.hypot() < limit {
                        let found = power(k);
                        if found > best.0 {
                            best = (found, k);
                        }
                    }
                }
            }
            let strong = beats(&a, &b).into_iter().filter(|x| x.strength > 0.9 * beat.strength);
            let miss = strong.map(|x| (x.at - best.1).hypot().min((x.at + best.1).hypot())).fold(f64::MAX, f64::min);
            assert!(miss < 0.08, "{beat:?} {best:?}");
        }
    }

    #[test]
    fn lattices_far_from_each_other_do_not_beat_and_the_angle_helps() {
        let cloth = Lattice::turned("the cloth", [1.5, 1.5], 0.0);
        let straight = Lattice::turned("the dots", [1.4, 1.4], 0.0);
        assert!(beats(&cloth, &straight)[0].strength > SEEN);
        let (_, left) = angle(1.4, &[cloth]);
        assert!(left.is_none_or(|beat| beat.strength < beats(&cloth, &straight)[0].strength));
        assert!(worst(&[cloth]).is_none());
    }
}
