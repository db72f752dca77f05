//! Parting a picture into inks. The inks are given, or found by clustering its flat colours in Oklab; each pixel is then said as shares of
//! one or two inks (and of bare cloth), so that smooth edges stay smooth. Then neighbours are trapped, and white is laid below if wished.
//! Same picture, same inks: the clustering starts from a fixed throw.

use super::Fault;
use super::artwork::Picture;
use super::colour::{self, Lab, apart2, byte, linear, oklab};
use super::distance::Distances;
use super::plate::{INK, Plate};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use rayon::prelude::*;

/// Most inks of a print.
pub const MOST_INKS: usize = 12;

/// An ink.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ink {
    pub name: String,
    /// sRGB.
    pub rgb: [u8; 3],
    /// It covers what is below.
    pub opaque: bool,
}

/// Which inks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Wanted<'a> {
    /// These, first printed first.
    Inks(&'a [Ink]),
    /// So many, found in the picture.
    Number(usize),
    /// As many as the picture has colours that an eye tells apart.
    ByColours,
}

/// How a picture is parted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Way<'a> {
    pub wanted: Wanted<'a>,
    /// Shades are kept as shares of an ink, for dots; else every place is one ink or none.
    pub tone: bool,
    /// How far the lighter of two neighbours runs under the darker, in pixels.
    pub trap: f64,
    /// Lay white below everything, drawn back so many pixels from the edges.
    pub underbase: Option<f64>,
}

/// A picture parted: inks in the order they are printed, each with its plate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Separation {
    pub inks: Vec<Ink>,
    pub plates: Vec<Plate>,
}

impl Separation {
    /// Everywhere that any ink lies.
    pub fn all(&self) -> Plate {
        match self.plates.as_slice() {
            [] => Plate::empty(1, 1),
            [only] => only.clone(),
            [first, second, others @ ..] => others.iter().fold(first.joined(second), |sum, plate| sum.joined(plate)),
        }
    }
}

/// Parts a picture.
///
/// # Errors
/// A picture in which there is nothing to print, no ink or too many.
pub fn separate(picture: &Picture, way: &Way) -> Result<Separation, Fault> {
    let ground = ground(picture);
    let mut inks = match way.wanted {
        Wanted::Inks(inks) => inks.to_vec(),
        Wanted::Number(number) => found(picture, ground, Some(number), way.tone),
        Wanted::ByColours => found(picture, ground, None, way.tone),
    };
    if inks.is_empty() {
        return Err(Fault("the picture is empty: there is nothing to print in it".into()));
    }
    if inks.len() > MOST_INKS {
        return Err(Fault(format!("{} inks; at most {MOST_INKS} are printed", inks.len())));
    }
    let mut plates = parted(picture, &inks, ground, way.tone);
    if !way.tone && inks.len() > 1 {
        without_seams(&mut plates, &inks, ground);
    }
    if plates.iter().all(|plate| plate.share() == 0.0) {
        return Err(Fault("the picture is empty: there is nothing to print in it".into()));
    }
    if !way.tone && way.trap > 0.0 {
        trap(&mut plates, &inks, way.trap);
    }
    if let Some(back) = way.underbase {
        let all = Separation { inks: inks.clone(), plates: plates.clone() }.all();
        plates.insert(0, if way.tone { all } else { all.grown(-back) });
        inks.insert(0, Ink { name: "white below".into(), rgb: [255, 255, 255], opaque: true });
    }
    Ok(Separation { inks, plates })
}

/// A picture without clear places that is white at its border stands on paper: white is then no ink.
fn ground(picture: &Picture) -> bool {
    let (w, h) = (picture.width, picture.height);
    let pixel = |x: usize, y: usize| &picture.rgba[(y * w + x) * 4..][..4];
    let clear = picture.rgba.chunks_exact(4).filter(|p| p[3] < 128).count();
    if clear * 200 > w * h {
        return false;
    }
    let border = (0..w).flat_map(|x| [(x, 0), (x, h - 1)]).chain((0..h).flat_map(|y| [(0, y), (w - 1, y)]));
    let (mut white, mut all) = (0, 0);
    for (x, y) in border {
        all += 1;
        white += usize::from(is_paper(oklab([pixel(x, y)[0], pixel(x, y)[1], pixel(x, y)[2]])));
    }
    white * 2 > all
}

fn is_paper(lab: Lab) -> bool {
    lab[0] > 0.94 && libm::hypot(lab[1], lab[2]) < 0.03
}

/// A colour of the picture and how many flat pixels have it.
struct Shade {
    lab: Lab,
    rgb: [f64; 3],
    weight: f64,
}

/// Pixels looked at to find the inks.
const SAMPLE: usize = 125_000;

/// The picture's flat colours, near ones taken together. Pixels on an edge are mixtures and do not count, unless there are no others.
fn shades(picture: &Picture, ground: bool) -> Vec<Shade> {
    let flat = gathered(picture, ground, true);
    let enough =
        flat.iter().map(|s| s.weight).sum::<f64>() > 0.02 * (picture.width * picture.height) as f64 / step2(picture);
    if enough { flat } else { gathered(picture, ground, false) }
}

fn step(picture: &Picture) -> usize {
    (((picture.width * picture.height) as f64 / SAMPLE as f64).sqrt() as usize).max(1)
}
fn step2(picture: &Picture) -> f64 {
    (step(picture) * step(picture)) as f64
}

/// Bits a channel by which shades are taken together. A million pixels at most are counted, so that sums fit in 32 bits.
const SHADE_BITS: u32 = 5;

fn gathered(picture: &Picture, ground: bool, flat: bool) -> Vec<Shade> {
    let (w, h, step) = (picture.width, picture.height, step(picture));
    let pixel = |x: usize, y: usize| &picture.rgba[(y * w + x) * 4..][..4];
    let near = |a: &[u8], b: &[u8]| a == b || (0..4).all(|i| a[i].abs_diff(b[i]) <= 3);
    let mut bins = vec![[0u32; 4]; 1 << (3 * SHADE_BITS)];
    for y in (0..h).step_by(step) {
        for x in (0..w).step_by(step) {
            let p = pixel(x, y);
            if p[3] < 128 || (ground && is_paper(oklab([p[0], p[1], p[2]]))) {
                continue;
            }
            let alone = flat
                && !(near(p, pixel((x + 1).min(w - 1), y))
                    && near(p, pixel(x.saturating_sub(1), y))
                    && near(p, pixel(x, (y + 1).min(h - 1)))
                    && near(p, pixel(x, y.saturating_sub(1))));
            if alone {
                continue;
            }
            let at = p[..3].iter().fold(0, |at, c| (at << SHADE_BITS) | usize::from(c >> (8 - SHADE_BITS)));
            let [red, green, blue, number] = &mut bins[at];
            *number += 1;
            for (sum, c) in [red, green, blue].into_iter().zip(p) {
                *sum += u32::from(*c);
            }
        }
    }
    let mean = |[red, green, blue, number]: [u32; 4]| {
        let weight = f64::from(number);
        let rgb = [red, green, blue].map(|sum| f64::from(sum) / weight);
        Shade { lab: oklab(rgb.map(|c| (c + 0.5) as u8)), rgb, weight }
    };
    bins.into_iter().filter(|bin| bin[3] > 0).map(mean).collect()
}

/// Root mean square distance below which colours count as one ink.
const ONE_INK: f64 = 0.035;
/// Most inks that are found unasked.
const MOST_FOUND: usize = 6;
/// Throws of the clustering.
const THROWS: u64 = 6;

/// Inks found in the picture, the lightest printed first.
fn found(picture: &Picture, ground: bool, number: Option<usize>, tone: bool) -> Vec<Ink> {
    let mut shades = shades(picture, ground);
    if tone {
        // a light shade of an ink is that ink in fewer dots: the strong ones say what it is
        let strong = |s: &Shade| apart2(s.lab, [1.0, 0.0, 0.0]);
        let most = shades.iter().map(strong).fold(0.0, f64::max);
        shades.retain(|s| strong(s) > 0.3 * most);
    }
    // specks of a colour are no ink
    let all: f64 = shades.iter().map(|s| s.weight).sum();
    if number.is_none() {
        shades.retain(|s| s.weight > 2e-4 * all);
    }
    let most = shades.len().min(MOST_INKS);
    let number = match (number, tone) {
        (Some(number), _) => number.min(most),
        (None, true) => most.min(1),
        (None, false) => {
            (1..=most.min(MOST_FOUND)).find(|k| clusters(&shades, *k).0 < ONE_INK).unwrap_or(most.min(MOST_FOUND))
        }
    };
    let (_, centres) = clusters(&shades, number);
    let mut inks: Vec<Ink> =
        centres.iter().map(|rgb| Ink { name: colour::name(*rgb), rgb: *rgb, opaque: false }).collect();
    inks.sort_by(|a, b| colour::lightness(b.rgb).total_cmp(&colour::lightness(a.rgb)).then(a.rgb.cmp(&b.rgb)));
    for at in 1..inks.len() {
        let same = inks[..at].iter().filter(|ink| ink.name.starts_with(&inks[at].name)).count();
        if same > 0 {
            inks[at].name = format!("{} {}", inks[at].name, same + 1);
        }
    }
    inks
}

/// The best of some throws: root mean square distance, and the colour of each cluster.
fn clusters(shades: &[Shade], number: usize) -> (f64, Vec<[u8; 3]>) {
    let tries = (0..THROWS).map(|throw| thrown(shades, number, throw));
    tries.min_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((0.0, Vec::new()))
}

fn thrown(shades: &[Shade], number: usize, throw: u64) -> (f64, Vec<[u8; 3]>) {
    let mut chance = Pcg64Mcg::seed_from_u64(throw);
    let mut centres: Vec<Lab> = Vec::new();
    let nearest = |centres: &[Lab], lab: Lab| {
        let far = |c: &Lab| apart2(*c, lab);
        let best = centres.iter().enumerate().min_by(|a, b| far(a.1).total_cmp(&far(b.1)));
        best.map_or((0, f64::INFINITY), |(i, c)| (i, far(c)))
    };
    while centres.len() < number {
        let pull: Vec<f64> = shades.iter().map(|s| s.weight * nearest(&centres, s.lab).1.min(1.0)).collect();
        let all: f64 = pull.iter().sum();
        if all <= 0.0 {
            break;
        }
        let mut left = chance.random::<f64>() * all;
        let at = pull.iter().position(|p| {
            left -= p;
            left < 0.0
        });
        centres.push(shades[at.unwrap_or(shades.len() - 1)].lab);
    }
    let mut mean = vec![[0u8; 3]; centres.len()];
    let mut miss = 0.0;
    for _ in 0..24 {
        let mut sums = vec![(0.0, [0.0; 3], [0.0; 3]); centres.len()];
        miss = 0.0;
        for shade in shades {
            let (at, far) = nearest(&centres, shade.lab);
            let Some(sum) = sums.get_mut(at) else { continue };
            miss += far * shade.weight;
            sum.0 += shade.weight;
            (0..3).for_each(|i| {
                sum.1[i] += shade.lab[i] * shade.weight;
                sum.2[i] += shade.rgb[i] * shade.weight;
            });
        }
        for (at, (weight, lab, rgb)) in sums.into_iter().enumerate() {
            if weight > 0.0 {
                centres[at] = lab.map(|v| v / weight);
                mean[at] = rgb.map(|v| (v / weight + 0.5) as u8);
            }
        }
    }
    let all: f64 = shades.iter().map(|s| s.weight).sum();
    ((miss / all.max(1e-9)).sqrt(), mean)
}

/// Bits a channel of the table from colours to shares.
const BITS: u32 = 6;

/// Shares of two inks that make a colour: their numbers and how much of each, 0 to 255.
#[derive(Clone, Copy, Default)]
struct Shares {
    inks: [u8; 2],
    of: [u8; 2],
}

/// A plate for each ink.
fn parted(picture: &Picture, inks: &[Ink], ground: bool, tone: bool) -> Vec<Plate> {
    let slot = |p: &[u8]| {
        let cut = |v: u8| u32::from(v) >> (8 - BITS);
        ((cut(p[0]) << (2 * BITS)) | (cut(p[1]) << BITS) | cut(p[2])) as usize
    };
    let mut used = vec![false; 1 << (3 * BITS)];
    // flat colours: most pixels are as the one before
    let mut last: &[u8] = &[];
    for p in picture.rgba.chunks_exact(4) {
        if p != last && p[3] > 0 {
            used[slot(p)] = true;
        }
        last = p;
    }
    let mixer = Mixer::new(inks, ground, tone);
    let middle = |cut: usize| {
        let cut = (cut & ((1 << BITS) - 1)) as u32;
        // spread over the whole range, so that black and white come out whole
        (cut * 255 / ((1 << BITS) - 1)) as u8
    };
    let shares = |at: usize| (at, mixer.shares([middle(at >> (2 * BITS)), middle(at >> BITS), middle(at)]));
    let asked: Vec<usize> = (0..used.len()).filter(|at| used[*at]).collect();
    let mut table = vec![Shares::default(); used.len()];
    for (at, shares) in asked.into_par_iter().map(shares).collect::<Vec<_>>() {
        table[at] = shares;
    }
    let (width, height) = (picture.width, picture.height);
    (0..inks.len() as u8)
        .into_par_iter()
        .map(|ink| {
            let one = |p: &[u8]| {
                if p[3] == 0 {
                    return 0;
                }
                let shares = table[slot(p)];
                let mut sum = 0u32;
                for i in 0..2 {
                    sum += if shares.inks[i] == ink { u32::from(shares.of[i]) } else { 0 };
                }
                ((sum.min(255) * u32::from(p[3]) + 127) / 255) as u8
            };
            let (mut last, mut share): (&[u8], u8) = (&[], 0);
            let cover = picture.rgba.chunks_exact(4).map(|p| {
                if p != last {
                    (last, share) = (p, one(p));
                }
                share
            });
            Plate { width, height, cover: cover.collect() }
        })
        .collect()
}

/// No ink.
const NONE: u8 = u8::MAX;

/// Squares that lie in three by three of one ink.
fn broad(label: &[u8], w: usize, h: usize) -> Vec<bool> {
    let mut broad = vec![false; w * h];
    let Some(inner) = w.checked_sub(2).filter(|_| h > 2) else { return broad };
    let mut alike = vec![false; inner];
    for y in 1..h - 1 {
        let own = &label[y * w + 1..][..inner];
        alike.fill(true);
        for v in y - 1..=y + 1 {
            for u in 0..3 {
                let other = &label[v * w + u..][..inner];
                alike.iter_mut().zip(own.iter().zip(other)).for_each(|(alike, (own, other))| *alike &= own == other);
            }
        }
        for v in y - 1..=y + 1 {
            for u in 0..3 {
                let line = &mut broad[v * w + u..][..inner];
                line.iter_mut().zip(&alike).for_each(|(broad, alike)| *broad |= alike);
            }
        }
    }
    broad
}

/// Takes away the thin seams of a third ink that smooth edges between two others leave, where its colour lies between theirs: what is no
/// wider than two pixels and has two other neighbours is given to the nearer of these.
fn without_seams(plates: &mut [Plate], inks: &[Ink], ground: bool) {
    let (w, h) = (plates[0].width, plates[0].height);
    // of equals the ink that is printed first
    let (mut label, mut most) = (vec![NONE; w * h], vec![INK - 1; w * h]);
    for (ink, plate) in plates.iter().enumerate() {
        for ((label, most), cover) in label.iter_mut().zip(&mut most).zip(&plate.cover) {
            (*label, *most) = if cover > most { (ink as u8, *cover) } else { (*label, *most) };
        }
    }
    let broad = broad(&label, w, h);
    let lab: Vec<Lab> = inks.iter().map(|ink| oklab(ink.rgb)).collect();
    let paper = if ground { Some(oklab([255; 3])) } else { None };
    let between = |own: usize, a: u8, b: u8| {
        let of = |l: u8| if l == NONE { paper } else { Some(lab[l as usize]) };
        let (Some(a), Some(b)) = (of(a), of(b)) else { return false };
        let t = along(lab[own], a, b);
        t > 0.05 && t < 0.95 && apart2(mixed(a, b, t), lab[own]) < 0.12 * 0.12
    };
    let mut moves = Vec::new();
    for at in (0..w * h).filter(|at| label[*at] != NONE && !broad[*at]) {
        let (x, y) = (at % w, at / w);
        // the last place counts what has no ink
        let mut near = [0usize; MOST_INKS + 1];
        for v in y.saturating_sub(2)..(y + 3).min(h) {
            for u in x.saturating_sub(2)..(x + 3).min(w) {
                let other = v * w + u;
                if label[other] != label[at] && (broad[other] || label[other] == NONE) {
                    near[usize::from(label[other]).min(MOST_INKS)] += 1;
                }
            }
        }
        let mut by_number = [(0u8, 0usize); MOST_INKS + 1];
        let name = |n: usize| if n == MOST_INKS { NONE } else { n as u8 };
        by_number.iter_mut().enumerate().for_each(|(n, one)| *one = (name(n), near[n]));
        by_number.sort_by_key(|(ink, number)| (std::cmp::Reverse(*number), *ink));
        let [(a, _), (b, second), ..] = by_number;
        if second > 0 && between(label[at] as usize, a, b) {
            moves.push((at, label[at] as usize, a));
        }
    }
    for (at, from, to) in moves {
        let cover = std::mem::take(&mut plates[from].cover[at]);
        if to != NONE {
            let sum = plates[to as usize].cover[at].saturating_add(cover);
            plates[to as usize].cover[at] = sum;
        }
    }
}

/// What colours are made from.
struct Mixer {
    /// Inks, and bare ground as the last where that is part of a mixture.
    ends: Vec<[f64; 3]>,
    labs: Vec<Lab>,
    inks: usize,
    tone: bool,
}

impl Mixer {
    fn new(inks: &[Ink], ground: bool, tone: bool) -> Mixer {
        let mut ends: Vec<[u8; 3]> = inks.iter().map(|ink| ink.rgb).collect();
        if ground || tone {
            ends.push([255; 3]);
        }
        let labs = ends.iter().map(|rgb| oklab(*rgb)).collect();
        // dots add up in light; an edge's smooth pixels are mixed in bytes
        let numbers = ends.iter().map(|rgb| rgb.map(|v| if tone { linear(v) } else { f64::from(v) / 255.0 }));
        Mixer { ends: numbers.collect(), labs, inks: inks.len(), tone }
    }

    fn lab(&self, numbers: [f64; 3]) -> Lab {
        if self.tone { colour::oklab_of_light(numbers) } else { oklab(numbers.map(byte_of)) }
    }

    fn shares(&self, rgb: [u8; 3]) -> Shares {
        let lab = oklab(rgb);
        let near = |i: &usize| apart2(self.labs[*i], lab);
        let Some(single) = (0..self.ends.len()).min_by(|a, b| near(a).total_cmp(&near(b))) else {
            return Shares::default();
        };
        if !self.tone && near(&single) < 0.03 * 0.03 {
            return self.of(single, single, [1.0, 0.0]);
        }
        let c = rgb.map(|v| if self.tone { linear(v) } else { f64::from(v) / 255.0 });
        if self.tone { self.toned(c, lab) } else { self.edge(c, lab, single) }
    }

    /// The pair of ends between which the colour lies, or the one nearest.
    fn edge(&self, c: [f64; 3], lab: Lab, single: usize) -> Shares {
        let mut best = (apart2(self.labs[single], lab).sqrt(), self.of(single, single, [1.0, 0.0]));
        for a in 0..self.ends.len() {
            for b in a + 1..self.ends.len() {
                let t = along(c, self.ends[a], self.ends[b]);
                let mix = mixed(self.ends[a], self.ends[b], t);
                let miss = apart2(self.lab(mix), lab).sqrt() + 0.01;
                if miss < best.0 {
                    best = (miss, self.of(a, b, [1.0 - t, t]));
                }
            }
        }
        best.1
    }

    /// Ground, and one or two inks on it.
    fn toned(&self, c: [f64; 3], lab: Lab) -> Shares {
        let ground = self.ends[self.inks];
        let mut best = (f64::INFINITY, Shares::default());
        let mut try_one = |a: usize, b: usize, of: [f64; 2], extra: f64, end: [f64; 3]| {
            let miss = apart2(self.lab(end), lab).sqrt() + extra;
            if miss < best.0 {
                best = (miss, self.of(a, b, of));
            }
        };
        for a in 0..self.inks {
            let t = along(c, ground, self.ends[a]);
            try_one(a, a, [t, 0.0], 0.0, mixed(ground, self.ends[a], t));
            for b in a + 1..self.inks {
                let (s, t) = in_triangle(c, ground, self.ends[a], self.ends[b]);
                let point =
                    |i: usize| ground[i] + s * (self.ends[a][i] - ground[i]) + t * (self.ends[b][i] - ground[i]);
                try_one(a, b, [s, t], 0.005, [point(0), point(1), point(2)]);
            }
        }
        best.1
    }

    /// Shares of two ends, ground left out.
    fn of(&self, a: usize, b: usize, of: [f64; 2]) -> Shares {
        let share = |end: usize, v: f64| if end < self.inks { (v.clamp(0.0, 1.0) * 255.0 + 0.5) as u8 } else { 0 };
        let mut shares = Shares { inks: [a as u8, b as u8], of: [share(a, of[0]), share(b, of[1])] };
        if a == b {
            shares.of[1] = 0;
        }
        shares
    }
}

fn byte_of(v: f64) -> u8 {
    (v.clamp(0.0, 1.0) * 255.0 + 0.5) as u8
}

fn mixed(a: [f64; 3], b: [f64; 3], t: f64) -> [f64; 3] {
    [0, 1, 2].map(|i| a[i] + (b[i] - a[i]) * t)
}

/// How far along from `a` to `b` the point nearest to `c` lies, 0 to 1.
fn along(c: [f64; 3], a: [f64; 3], b: [f64; 3]) -> f64 {
    let (mut up, mut down) = (0.0, 0.0);
    for i in 0..3 {
        up += (c[i] - a[i]) * (b[i] - a[i]);
        down += (b[i] - a[i]) * (b[i] - a[i]);
    }
    if down > 0.0 { (up / down).clamp(0.0, 1.0) } else { 0.0 }
}

/// Shares of the two sides of the triangle `g a b` whose point is nearest to `c`.
fn in_triangle(c: [f64; 3], g: [f64; 3], a: [f64; 3], b: [f64; 3]) -> (f64, f64) {
    let less = |p: [f64; 3]| [0, 1, 2].map(|i| p[i] - g[i]);
    let dot = |p: [f64; 3], q: [f64; 3]| (0..3).map(|i| p[i] * q[i]).sum::<f64>();
    let (u, v, w) = (less(a), less(b), less(c));
    let (uu, uv, vv, uw, vw) = (dot(u, u), dot(u, v), dot(v, v), dot(u, w), dot(v, w));
    let det = uu * vv - uv * uv;
    if det > 1e-9 {
        let (s, t) = ((uw * vv - vw * uv) / det, (vw * uu - uw * uv) / det);
        if s >= 0.0 && t >= 0.0 && s + t <= 1.0 {
            return (s, t);
        }
    }
    let sides = [(along(c, g, a), 0.0), (0.0, along(c, g, b)), {
        let t = along(c, a, b);
        (1.0 - t, t)
    }];
    let far = |(s, t): &(f64, f64)| {
        (0..3).map(|i| (g[i] + s * u[i] + t * v[i] - c[i]) * (g[i] + s * u[i] + t * v[i] - c[i])).sum::<f64>()
    };
    let best = sides.iter().min_by(|p, q| far(p).total_cmp(&far(q)));
    best.copied().unwrap_or((0.0, 0.0))
}

/// The lighter of two neighbours runs `by` pixels under the darker, or the earlier under a later ink that covers it.
fn trap(plates: &mut [Plate], inks: &[Ink], by: f64) {
    let masks: Vec<Vec<bool>> = plates.iter().map(Plate::mask).collect();
    let light: Vec<f64> = inks.iter().map(|ink| colour::lightness(ink.rgb)).collect();
    for (a, plate) in plates.iter_mut().enumerate() {
        let under = |b: usize| {
            b != a
                && if inks[b].opaque && b > a {
                    true
                } else if inks[a].opaque && a > b {
                    false
                } else {
                    light[a] > light[b]
                }
        };
        let over: Vec<usize> = (0..inks.len()).filter(|b| under(*b)).collect();
        if over.is_empty() {
            continue;
        }
        let away = Distances::to(&masks[a], plate.width, plate.height);
        for (at, cover) in plate.cover.iter_mut().enumerate() {
            let covered = over.iter().any(|b| masks[*b][at]);
            if covered && f64::from(away.squared[at]) <= by * by {
                *cover = 255;
            }
        }
    }
}

/// The colour of light that cloth and inks send back where they lie as the plates say, printed one after the other.
pub fn seen(inks: &[Ink], shares: impl Fn(usize) -> f64, cloth: [f64; 3]) -> [f64; 3] {
    let mut light = cloth;
    for (at, ink) in inks.iter().enumerate() {
        let (share, own) = (shares(at), ink.rgb.map(linear));
        for i in 0..3 {
            // a clear ink dims what is below, one that covers hides it
            let through =
                if ink.opaque { own[i] } else { own[i] * (0.35 + 0.65 * (light[i] / cloth[i].max(0.05)).min(1.0)) };
            light[i] += (through - light[i]) * share;
        }
    }
    light
}

/// The same as a byte colour.
pub fn seen_bytes(inks: &[Ink], shares: impl Fn(usize) -> f64, cloth: [u8; 3]) -> [u8; 3] {
    seen(inks, shares, cloth.map(linear)).map(byte)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::print::artwork::Artwork;

    fn picture(inner: &str, ground: bool) -> Picture {
        let paper = if ground { "<rect width='200' height='100' fill='#fff'/>" } else { "" };
        let svg = format!("<svg xmlns='http://www.w3.org/2000/svg' width='200' height='100'>{paper}{inner}</svg>");
        Artwork::read(svg.as_bytes()).and_then(|a| a.picture(400, 200)).expect("sound")
    }

    const WAY: Way = Way { wanted: Wanted::ByColours, tone: false, trap: 0.0, underbase: None };

    const FLAGS: &str =
        "<circle cx='60' cy='50' r='40' fill='#d04030'/><circle cx='110' cy='50' r='40' fill='#203060'/>";

    #[test]
    fn colours_are_found_lightest_first_and_always_the_same() {
        for ground in [false, true] {
            let made = separate(&picture(FLAGS, ground), &WAY).expect("parted");
            let rgb: Vec<[u8; 3]> = made.inks.iter().map(|ink| ink.rgb).collect();
            assert_eq!(rgb.len(), 2, "{:?}", made.inks);
            assert!(rgb[0][0].abs_diff(0xd0) < 3 && rgb[1][2].abs_diff(0x60) < 3, "{rgb:?}");
            assert_eq!(made, separate(&picture(FLAGS, ground), &WAY).expect("parted"));
            // areas in squares: circles of radius 80, the later over the earlier
            let area = |n: usize| made.plates[n].share() * 80_000.0;
            let disc = std::f64::consts::PI * 6400.0;
            assert!((area(1) - disc).abs() < 0.01 * disc, "{}", area(1));
            assert!(area(0) < 0.75 * disc);
        }
    }

    /// Inks knock each other out: no square has more than all of its area, and where two meet they fill it.
    #[test]
    fn inks_knock_each_other_out() {
        let made = separate(&picture(FLAGS, false), &WAY).expect("parted");
        for at in 0..made.plates[0].cover.len() {
            let sum: u32 = made.plates.iter().map(|p| u32::from(p.cover[at])).sum();
            assert!(sum <= 257, "{at}: {sum}");
        }
        let middle = 100 * 400 + 140;
        assert_eq!((made.plates[0].cover[middle], made.plates[1].cover[middle]), (0, 255));
    }

    #[test]
    fn the_lighter_runs_under_the_darker_by_the_trap() {
        let bars = "<rect x='0' y='0' width='100' height='100' fill='#e0c020'/><rect x='100' y='0' width='100' height='100' fill='#203060'/>";
        let way = Way { trap: 6.0, ..WAY };
        let made = separate(&picture(bars, false), &way).expect("parted");
        let ends = |n: usize| {
            let line = &made.plates[n].cover[100 * 400..101 * 400];
            (
                line.iter().position(|c| *c >= 128).unwrap_or(0),
                400 - line.iter().rev().position(|c| *c >= 128).unwrap_or(0),
            )
        };
        assert_eq!(ends(0), (0, 206), "yellow runs under blue");
        assert_eq!(ends(1), (200, 400), "blue stays where it is");
        // an ink that covers and comes later is run under by the darker one
        let inks = [[0x20, 0x30, 0x60], [0xe0, 0xc0, 0x20]].map(|rgb| Ink {
            name: String::new(),
            rgb,
            opaque: rgb[0] == 0xe0,
        });
        let way = Way { wanted: Wanted::Inks(&inks), ..way };
        let made = separate(&picture(bars, false), &way).expect("parted");
        let blue = &made.plates[0].cover[100 * 400..101 * 400];
        assert_eq!(blue.iter().position(|c| *c >= 128), Some(194));
    }

    #[test]
    fn white_below_is_drawn_back() {
        let square = "<rect x='50' y='25' width='100' height='50' fill='#203060'/>";
        let made = separate(&picture(square, false), &Way { underbase: Some(4.0), ..WAY }).expect("parted");
        assert_eq!((made.inks.len(), made.inks[0].rgb, made.inks[0].opaque), (2, [255; 3], true));
        let line = &made.plates[0].cover[100 * 400..101 * 400];
        assert_eq!(line.iter().position(|c| *c >= 128), Some(104));
    }

    /// Black, grey and white: the smooth edge between black and white is no line of grey.
    #[test]
    fn edges_leave_no_seam_of_a_third_ink() {
        let inner = "<circle cx='60' cy='50' r='40.3' fill='#000'/><rect x='140' y='20' width='50' height='60' fill='#808080'/>";
        for ground in [false, true] {
            let made = separate(&picture(inner, ground), &WAY).expect("parted");
            assert_eq!(made.inks.len(), 2, "{:?}", made.inks);
            let grey = &made.plates[0];
            let astray =
                (0..200).flat_map(|y| (0..250).map(move |x| (x, y))).filter(|(x, y)| grey.is_ink(*x, *y)).count();
            assert_eq!(astray, 0, "ground {ground}");
        }
    }

    /// Shades become shares of the ink: half the light of paper and ink is half of it.
    #[test]
    fn shades_are_shares() {
        let half = colour::byte((1.0 + linear(0x10)) / 2.0);
        let inner = format!(
            "<rect x='0' y='0' width='100' height='100' fill='#101010'/><rect x='100' y='0' width='100' height='100' fill='rgb({half},{half},{half})'/>"
        );
        let made = separate(&picture(&inner, false), &Way { tone: true, ..WAY }).expect("parted");
        assert_eq!(made.inks.len(), 1);
        let at = |x: usize| f64::from(made.plates[0].cover[100 * 400 + x]) / 255.0;
        assert!(at(50) > 0.98 && (at(300) - 0.5).abs() < 0.03, "{} {}", at(50), at(300));
    }

    #[test]
    fn nothing_and_too_much_are_refused() {
        assert!(separate(&picture("", false), &WAY).unwrap_err().0.contains("nothing to print"));
        let many: Vec<Ink> = (0..13u8).map(|i| Ink { name: String::new(), rgb: [i; 3], opaque: false }).collect();
        let way = Way { wanted: Wanted::Inks(&many), ..WAY };
        assert!(separate(&picture(FLAGS, false), &way).unwrap_err().0.contains("at most 12"));
    }
}
