//! From a plate to dots of ink or none: solid, rows of round or elliptical dots, or dots scattered evenly. Works row by row at the film's
//! own fineness, so that a large film takes no more memory than its bits. Tones come out right because the threshold of a place is the share
//! of all places whose dot is there first.

use super::plate::Plate;
use super::scattered;
use rayon::prelude::*;

/// Form of the dots.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    Round,
    /// Half as long again as wide, so that neighbours touch at two tones, not at one.
    Ellipse,
}

/// How shades become ink or none.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Tone {
    /// Ink where more than half is covered.
    Solid,
    /// Dots in rows: rows a millimetre, angle of the rows in degrees against the picture's foot.
    Rows { ruling: f64, angle: f64, form: Form },
    /// Dots of this side in millimetres, scattered.
    Scattered { grain: f64 },
}

/// A plate to be drawn in dots.
pub struct Raster<'a> {
    plate: &'a Plate,
    /// Squares of the plate to one dot of the film.
    step: f64,
    /// Dots across and down.
    pub width: usize,
    pub height: usize,
    threshold: Threshold,
}

impl<'a> Raster<'a> {
    /// The plate, whose squares are `pixel` mm, in dots of `dot` mm.
    pub fn new(plate: &'a Plate, pixel: f64, dot: f64, tone: Tone) -> Raster<'a> {
        let step = dot / pixel;
        let across = |squares: usize| ((squares as f64 / step).round() as usize).max(1);
        Raster {
            plate,
            step,
            width: across(plate.width),
            height: across(plate.height),
            threshold: Threshold::new(tone, dot),
        }
    }

    /// Bytes of a row; its first dot is the highest bit of its first byte.
    pub fn row_bytes(&self) -> usize {
        self.width.div_ceil(8)
    }

    /// Rows from number `first` on, as many as `out` holds; a set bit is ink.
    pub fn rows(&self, first: usize, out: &mut [u8]) {
        let bytes = self.row_bytes();
        out.par_chunks_mut(bytes).enumerate().for_each_init(Vec::new, |line, (n, out)| {
            self.blend(first + n, line);
            out.fill(0);
            self.row(first + n, line, out);
        });
    }

    /// The plate's two rows about a row of dots, mixed: coverage times 257.
    fn blend(&self, row: usize, line: &mut Vec<u16>) {
        let y = ((row as f64 + 0.5) * self.step - 0.5).clamp(0.0, (self.plate.height - 1) as f64);
        let y0 = (y as usize).min(self.plate.height - 1);
        let y1 = (y0 + 1).min(self.plate.height - 1);
        let t = ((y - y0 as f64) * 256.0) as u32;
        let w = self.plate.width;
        let (a, b) = (&self.plate.cover[y0 * w..][..w], &self.plate.cover[y1 * w..][..w]);
        line.clear();
        line.extend(a.iter().zip(b).map(|(a, b)| (((256 - t) * u32::from(*a) + t * u32::from(*b)) * 257 / 256) as u16));
    }

    /// One row from its mixed line: runs of nothing and of everything at once, the rest dot by dot.
    fn row(&self, row: usize, line: &[u16], out: &mut [u8]) {
        let last = line.len() - 1;
        let dot_of = |square: f64| (((square + 0.5) / self.step - 0.5).ceil().max(0.0) as usize).min(self.width);
        let mut at = 0;
        let mut dot = 0;
        while dot < self.width {
            let value = line[at];
            let mut end = at;
            while end < last && line[end + 1] == value {
                end += 1;
            }
            // between the middles of squares `at` and `end` nothing changes
            let stop = if end == last { self.width } else { dot_of(end as f64) };
            match value {
                0 => {}
                u16::MAX => fill(out, dot, stop.max(dot)),
                _ => self.even(row, value, dot..stop, out),
            }
            dot = dot.max(stop);
            if end < last {
                let stop = dot_of((end + 1) as f64);
                self.slope(row, (end, line[end], line[end + 1]), dot..stop, out);
                dot = dot.max(stop);
                at = end + 1;
            }
        }
    }

    fn even(&self, row: usize, value: u16, dots: std::ops::Range<usize>, out: &mut [u8]) {
        self.threshold.row(row, dots, out, |_| value);
    }

    fn slope(&self, row: usize, (square, from, to): (usize, u16, u16), dots: std::ops::Range<usize>, out: &mut [u8]) {
        let (from, rise) = (f64::from(from), f64::from(to) - f64::from(from));
        let offset = 0.5 * self.step - 0.5 - square as f64;
        self.threshold
            .row(row, dots, out, |dot| (from + rise * (dot as f64 * self.step + offset).clamp(0.0, 1.0) + 0.5) as u16);
    }
}

/// Sets the bits from `from` to before `to`.
fn fill(out: &mut [u8], from: usize, to: usize) {
    if from >= to {
        return;
    }
    let (first, last) = (from / 8, (to - 1) / 8);
    let (head, tail) = (0xffu8 >> (from % 8), 0xffu8 << (7 - (to - 1) % 8));
    if first == last {
        out[first] |= head & tail;
    } else {
        out[first] |= head;
        out[first + 1..last].fill(0xff);
        out[last] |= tail;
    }
}

/// What coverage a place needs to get ink.
enum Threshold {
    Half,
    Rows(Rows),
    /// Squares of the tile to a dot, in parts of 2^32 of the tile.
    Tile {
        step: f64,
    },
}

/// Steps of a turn, and of the rank of a sum.
const TURN: usize = 1024;
const RANKS: usize = 8192;

/// Dots in rows: two waves across each other, whose sum says where the dot begins.
struct Rows {
    /// Turns of the two waves from dot to dot and from row to row, in parts of 2^32.
    across: [f64; 2],
    down: [f64; 2],
    waves: [Vec<i32>; 2],
    /// Share of places that come before a sum.
    rank: Vec<u16>,
}

/// Height of both waves together.
const HIGH: i32 = 16384;

impl Rows {
    fn new(ruling: f64, angle: f64, form: Form, dot: f64) -> Rows {
        let (sin, cos) = (libm::sin(angle.to_radians()), libm::cos(angle.to_radians()));
        let turns = ruling * dot;
        let shares = match form {
            Form::Round => [0.5, 0.5],
            Form::Ellipse => [0.4, 0.6],
        };
        let wave = |share: f64| -> Vec<i32> {
            let one = |i: usize| libm::cos((i as f64 + 0.5) * std::f64::consts::TAU / TURN as f64);
            (0..TURN).map(|i| (f64::from(HIGH) * share * one(i)).round() as i32).collect()
        };
        let waves = shares.map(wave);
        // every pair of steps is met equally often, so counting them all gives the share exactly
        let mut count = vec![0u64; RANKS];
        for a in &waves[0] {
            for b in &waves[1] {
                count[Self::slot(a + b)] += 1;
            }
        }
        let all = (TURN * TURN) as u64;
        let mut before = 0;
        let mut rank = vec![0u16; RANKS];
        for slot in (0..RANKS).rev() {
            rank[slot] = (((before + count[slot] / 2) * 65535 + all / 2) / all) as u16;
            before += count[slot];
        }
        // y runs down the film, angles run up from the foot
        Rows { across: [turns * cos, turns * sin], down: [-turns * sin, turns * cos], waves, rank }
    }
    #[inline]
    fn slot(sum: i32) -> usize {
        (((sum + HIGH) as usize * RANKS) / (2 * HIGH as usize + 1)).min(RANKS - 1)
    }
}

fn turn32(turns: f64) -> u32 {
    ((turns - turns.floor()) * 4_294_967_296.0) as u64 as u32
}

impl Threshold {
    fn new(tone: Tone, dot: f64) -> Threshold {
        match tone {
            Tone::Solid => Threshold::Half,
            Tone::Rows { ruling, angle, form } => Threshold::Rows(Rows::new(ruling, angle, form, dot)),
            Tone::Scattered { grain } => Threshold::Tile { step: dot / (grain * scattered::SIDE as f64) },
        }
    }

    /// Sets the bits of some dots of a row whose coverage beats the threshold.
    #[inline]
    fn row(&self, row: usize, dots: std::ops::Range<usize>, out: &mut [u8], value: impl Fn(usize) -> u16) {
        let set = |out: &mut [u8], dot: usize| out[dot / 8] |= 0x80 >> (dot % 8);
        match self {
            Threshold::Half => {
                for dot in dots {
                    if value(dot) > 32767 {
                        set(out, dot);
                    }
                }
            }
            Threshold::Rows(rows) => {
                let start = |i: usize| rows.across[i] * dots.start as f64 + rows.down[i] * row as f64;
                let (mut u, mut v) = (turn32(start(0)), turn32(start(1)));
                let (du, dv) = (turn32(rows.across[0]), turn32(rows.across[1]));
                let shift = 32 - TURN.trailing_zeros();
                for dot in dots {
                    let sum = rows.waves[0][(u >> shift) as usize] + rows.waves[1][(v >> shift) as usize];
                    if value(dot) > rows.rank[Rows::slot(sum)] {
                        set(out, dot);
                    }
                    (u, v) = (u.wrapping_add(du), v.wrapping_add(dv));
                }
            }
            Threshold::Tile { step } => {
                let tile = scattered::tile();
                let side = scattered::SIDE;
                let shift = 32 - side.trailing_zeros();
                let line = (turn32(*step * (row as f64 + 0.5)) >> shift) as usize * side;
                let mut u = turn32(*step * (dots.start as f64 + 0.5));
                let du = turn32(*step);
                for dot in dots {
                    if value(dot) > tile[line + (u >> shift) as usize] {
                        set(out, dot);
                    }
                    u = u.wrapping_add(du);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(tone: Tone, cover: u8) -> f64 {
        let plate = Plate { width: 40, height: 40, cover: vec![cover; 1600] };
        let raster = Raster::new(&plate, 1.0, 0.02, tone);
        let mut out = vec![0; raster.row_bytes() * raster.height];
        raster.rows(0, &mut out);
        out.iter().map(|b| u64::from(b.count_ones())).sum::<u64>() as f64 / (raster.width * raster.height) as f64
    }

    /// Mean ink of a wedge is the tone wished, within one point of a hundred.
    #[test]
    fn tones_come_out_right() {
        let tones = [
            Tone::Rows { ruling: 1.0, angle: 22.5, form: Form::Round },
            Tone::Rows { ruling: 1.37, angle: 7.5, form: Form::Ellipse },
            Tone::Rows { ruling: 3.0, angle: 45.0, form: Form::Round },
            Tone::Scattered { grain: 0.3 },
        ];
        for tone in tones {
            for step in 0..=10u32 {
                let cover = (step * 255 / 10) as u8;
                let (wished, found) = (f64::from(cover) / 255.0, area(tone, cover));
                assert!((found - wished).abs() < 0.01, "{tone:?} {wished:.3} {found:.4}");
            }
        }
    }

    /// Rows stand at their ruling and their angle: along the rows' own direction the pattern repeats, half way it does not.
    #[test]
    fn rows_stand_where_they_should() {
        let plate = Plate { width: 40, height: 40, cover: vec![90; 1600] };
        let (ruling, angle, dot) = (0.5, 30.0f64, 0.02);
        let raster = Raster::new(&plate, 1.0, dot, Tone::Rows { ruling, angle, form: Form::Round });
        let mut out = vec![0; raster.row_bytes() * raster.height];
        raster.rows(0, &mut out);
        let bit = |x: i64, y: i64| out[y as usize * raster.row_bytes() + x as usize / 8] >> (7 - x % 8) & 1;
        let agree = |dx: f64, dy: f64| {
            let (dx, dy) = ((dx / dot).round() as i64, (dy / dot).round() as i64);
            let mut same = 0;
            for y in (400..1600).step_by(7) {
                for x in (400..1600).step_by(7) {
                    same += i32::from(bit(x, y) == bit(x + dx, y + dy));
                }
            }
            f64::from(same) / (172.0 * 172.0)
        };
        // up from the foot is up the picture: y falls
        let (c, s) = (libm::cos(angle.to_radians()) / ruling, -libm::sin(angle.to_radians()) / ruling);
        assert!(agree(c, s) > 0.97 && agree(-s, c) > 0.97, "{} {}", agree(c, s), agree(-s, c));
        assert!(agree(c / 2.0, s / 2.0) < 0.7 && agree(c, -s) < 0.9, "{} {}", agree(c / 2.0, s / 2.0), agree(c, -s));
    }

    /// Solid edges fall between squares where the coverage says.
    #[test]
    fn solid_edges_are_finer_than_the_plate() {
        // 4.25 of 10 squares of 0.4 mm: the edge stands at 1.7 mm
        let cover = (0..100)
            .map(|i| match i % 10 {
                0..4 => 255,
                4 => 64,
                _ => 0,
            })
            .collect();
        let plate = Plate { width: 10, height: 10, cover };
        let raster = Raster::new(&plate, 0.4, 0.02, Tone::Solid);
        let mut out = vec![0; raster.row_bytes()];
        raster.rows(90, &mut out);
        let wide: u32 = out.iter().map(|b| b.count_ones()).sum();
        assert!((f64::from(wide) * 0.02 - 1.7).abs() < 0.06, "{wide}");
    }

    #[test]
    fn runs_are_filled() {
        for (from, to) in [(0, 0), (3, 5), (0, 8), (7, 9), (5, 31), (8, 16)] {
            let mut out = [0u8; 4];
            fill(&mut out, from, to);
            for dot in 0..32 {
                assert_eq!(out[dot / 8] >> (7 - dot % 8) & 1, u8::from((from..to).contains(&dot)), "{from} {to} {dot}");
            }
        }
    }
}
