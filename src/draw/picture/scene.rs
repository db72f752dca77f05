//! A cloth made ready to be seen through a window: both systems of threads and which of them is up where.

use super::coat::Coat;
use super::look::ClothLook;
use super::strands::{Laying, Strand, System, between};
use super::surface::{Hit, Skin};
use super::view::{Side, View};
use crate::weave::{ColourOrder, Drawdown};
use rayon::prelude::*;

/// Everything fixed for one picture.
pub struct Scene {
    pub warp: System,
    pub weft: System,
    pub skin: Skin,
    /// Millimetres a fine pixel.
    pub pixel: f32,
    /// Lowest yarn surface, mm.
    pub bottom: f32,
    block: Drawdown,
    /// Place in the block of each thread of the two systems.
    ends: Vec<usize>,
    rows: Vec<usize>,
    /// Seed of all that is not a thread's own.
    pub seed: u32,
    /// What the relief is made of.
    pub plane: Plane,
    /// Ink on the cloth.
    pub coat: Option<Coat>,
    /// Highest yarn surface, mm.
    top: f32,
}

/// What is seen of a strand in a pixel, before it is lit.
#[derive(Clone, Copy, Default)]
struct Seen {
    strand: u32,
    off: f32,
    cover: f32,
    z: f32,
}

/// A row's working space.
pub struct Row {
    ends: Vec<Strand>,
    warp: Vec<[Seen; 2]>,
    weft: Vec<[Seen; 2]>,
}

impl Row {
    pub fn new(width: usize) -> Self {
        Row { ends: Vec::new(), warp: vec![[Seen::default(); 2]; width], weft: vec![[Seen::default(); 2]; width] }
    }
}

/// What a pixel gives back to light: sums over the strands in it, by share.
#[derive(Clone, Copy, Debug, Default)]
pub struct Ink {
    /// Colour times light of the lamp.
    pub lit: [f32; 3],
    /// Colour times light from all round.
    pub soft: [f32; 3],
    pub sheen: f32,
    pub cover: f32,
    /// Yarn that light from behind goes through, mm.
    pub thick: f32,
}

/// What a relief is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Plane {
    /// Heights, mm.
    Height,
    /// The share of each pixel that no yarn covers.
    Gap,
}

/// Picks as they pass the columns of a picture, for some rows of it.
pub struct Picks {
    strands: Vec<Strand>,
    /// Least and greatest y that each strand fills, a strand to a line of columns.
    reach: Vec<(f32, f32)>,
    width: usize,
}

impl Scene {
    /// `margin` more fine pixels on each side, for light that comes from beyond the edge.
    pub fn new(look: &ClothLook, view: &View, fineness: usize, margin: usize, plane: Plane) -> Self {
        let turned;
        let look = match view.side {
            Side::Face => look,
            Side::Back => {
                turned = look.turned();
                &turned
            }
        };
        let pixel = view.pixel / fineness as f64;
        let beyond = (margin + 1) as f64 * pixel;
        let size = (view.width as f64 * view.pixel, view.height as f64 * view.pixel);
        let seed = (look.seed ^ (look.seed >> 32)) as u32;
        let picks = (size.1 / look.pick_spacing).ceil() as i64;
        let hue = |order: &ColourOrder, n: i64| look.colours[order.at(n.rem_euclid(order.repeat() as i64) as usize)];
        let (span_x, span_y) = ((-beyond, size.0 + beyond), (-beyond, size.1 + beyond));
        let warp_laying = Laying {
            yarn: &look.warp,
            spacing: look.end_spacing,
            path: look.warp_path(),
            across: look.pick_spacing,
            straying: look.straying,
            down: true,
            seed: seed ^ 0x1357_9BDF,
        };
        let weft_laying = Laying {
            yarn: &look.weft,
            spacing: look.pick_spacing,
            path: look.weft_path(),
            across: look.end_spacing,
            straying: look.straying,
            down: false,
            seed: seed ^ 0x2468_ACE0,
        };
        let warp = System::new(&warp_laying, span_x, |n| dyed(hue(&look.warp_order, n), seed ^ 21, n));
        let weft = System::new(&weft_laying, span_y, |n| dyed(hue(&look.weft_order, picks - 1 - n), seed ^ 22, n));
        let first = |span: (f64, f64), spacing: f64| (span.0 / spacing).floor() as i64 - 1;
        let (first_end, first_pick) = (first(span_x, look.end_spacing), first(span_y, look.pick_spacing));
        let block = look.drawdown.clone();
        let in_block = |n: i64, of: usize| n.rem_euclid(of as i64) as usize;
        let ends = (0..warp.places.len() as i64).map(|i| in_block(first_end + i, block.ends())).collect();
        let rows =
            (0..weft.places.len() as i64).map(|i| in_block(picks - 1 - (first_pick + i), block.picks())).collect();
        let bottom = -(look.thickness() / 2.0) as f32;
        Scene {
            warp,
            weft,
            skin: Skin::new(seed, pixel as f32),
            pixel: pixel as f32,
            bottom,
            block,
            ends,
            rows,
            seed,
            plane,
            coat: None,
            top: (look.thickness() / 2.0) as f32,
        }
    }

    /// Whether the end lies over the pick; both numbered as in the systems.
    pub fn up(&self, end: usize, pick: usize) -> bool {
        self.block.warp_up(self.ends[end], self.rows[pick])
    }

    /// The picks that fine rows `rows` (first, last) may meet, along `width` columns of which the first is number `left`.
    pub fn picks(&self, rows: (i64, i64), left: i64, width: usize) -> Picks {
        let reach = self.reach(&self.weft);
        let from = self.weft.places.partition_point(|&p| p < self.middle(rows.0) - reach);
        let to = self.weft.places.partition_point(|&p| p <= self.middle(rows.1) + reach);
        let plies = self.weft.strands();
        let crossings: Vec<(usize, f32)> =
            (0..width).map(|c| between(&self.warp.places, self.middle(left + c as i64))).collect();
        let mut strands = vec![Strand::default(); (to - from) * plies * width];
        strands.par_chunks_mut((plies * width).max(1)).enumerate().for_each(|(n, lines)| {
            let pick = from + n;
            let mut here = [Strand::default(); 6];
            for (c, &(end, t)) in crossings.iter().enumerate() {
                let over = (!self.up(end, pick), !self.up(end + 1, pick));
                self.weft.at(pick, self.middle(left + c as i64), t, over, &mut here[..plies]);
                for (ply, strand) in here[..plies].iter().enumerate() {
                    lines[ply * width + c] = *strand;
                }
            }
        });
        let span = |line: &[Strand]| {
            line.iter().fold((f32::MAX, f32::MIN), |(a, b), s| (a.min(s.mid - s.half), b.max(s.mid + s.half)))
        };
        let reach = strands.par_chunks(width).map(span).collect();
        Picks { strands, reach, width }
    }

    /// Middle of a fine pixel, mm.
    fn middle(&self, number: i64) -> f32 {
        (number as f32 + 0.5) * self.pixel
    }
    /// How far from its place any part of a thread may lie.
    fn reach(&self, system: &System) -> f32 {
        system.widest() + self.pixel
    }

    /// One row of fine pixels, the first column number `left`. Inks are made for the columns of `inks`, which begin `margin`
    /// after the heights'.
    pub fn row(
        &self,
        (number, left): (i64, i64),
        picks: &Picks,
        work: &mut Row,
        heights: &mut [f32],
        inks: &mut [Ink],
    ) {
        let y = self.middle(number);
        let margin = (heights.len() - inks.len()) / 2;
        self.ends_in_row(y, left, work);
        self.picks_in_row(y, picks, work);
        for (c, height) in heights.iter_mut().enumerate() {
            let shares = Shares::of(&work.warp[c], &work.weft[c], self.pixel);
            *height = match self.plane {
                Plane::Height => shares.height(&work.warp[c], &work.weft[c], self.bottom - 0.2 * self.weft.half),
                Plane::Gap => 1.0 - shares.cover,
            };
            if let Some(ink) = c.checked_sub(margin).and_then(|c| inks.get_mut(c)) {
                let place = (self.middle(left + c as i64), y);
                *ink = self.ink(&shares, (&work.warp[c], &work.weft[c]), &work.ends, &picks.strands, place);
            }
        }
    }

    fn ends_in_row(&self, y: f32, left: i64, work: &mut Row) {
        let plies = self.warp.strands();
        let width = work.warp.len();
        work.warp.fill([Seen::default(); 2]);
        work.ends.clear();
        let (pick, t) = between(&self.weft.places, y);
        let start = self.middle(left);
        for end in 0..self.warp.places.len() {
            let up = (self.up(end, pick), self.up(end, pick + 1));
            let mut here = [Strand::default(); 6];
            self.warp.at(end, y, t, up, &mut here[..plies]);
            for strand in &here[..plies] {
                let number = work.ends.len() as u32;
                let reach = strand.half + self.pixel * 0.5;
                let from = ((strand.mid - reach - start) / self.pixel).ceil().clamp(0.0, width as f32) as usize;
                let to = ((strand.mid + reach - start) / self.pixel).floor().clamp(-1.0, width as f32 - 1.0) as isize;
                for c in from..(to + 1).max(from as isize) as usize {
                    let off = start + c as f32 * self.pixel - strand.mid;
                    self.see(&self.warp, strand, number, off, &mut work.warp[c]);
                }
                work.ends.push(*strand);
            }
        }
    }

    fn picks_in_row(&self, y: f32, picks: &Picks, work: &mut Row) {
        work.weft.fill([Seen::default(); 2]);
        let edge = self.pixel * 0.5;
        for (line, &(low, high)) in picks.reach.iter().enumerate() {
            if y + edge <= low || y - edge >= high {
                continue;
            }
            let first = line * picks.width;
            for (c, strand) in picks.strands[first..first + picks.width].iter().enumerate() {
                let off = y - strand.mid;
                if off.abs() < strand.half + edge {
                    self.see(&self.weft, strand, (first + c) as u32, off, &mut work.weft[c]);
                }
            }
        }
    }

    /// Puts a strand among the two highest of its system in a pixel.
    #[inline]
    fn see(&self, system: &System, strand: &Strand, number: u32, off: f32, seen: &mut [Seen; 2]) {
        let edge = self.pixel * 0.5;
        let cover = ((off + edge).min(strand.half) - (off - edge).max(-strand.half)) / self.pixel;
        if cover <= 0.0 {
            return;
        }
        let u = (off / strand.half).clamp(-1.0, 1.0);
        let z = strand.z + strand.half * system.flatten * (1.0 - u * u).sqrt() / strand.cos.max(0.3);
        let new = Seen { strand: number, off, cover: cover.min(1.0), z };
        if seen[0].cover == 0.0 || z > seen[0].z {
            seen[1] = seen[0];
            seen[0] = new;
        } else if seen[1].cover == 0.0 || z > seen[1].z {
            seen[1] = new;
        }
    }

    /// What the strands of both systems in a pixel give back.
    #[inline]
    fn ink(
        &self,
        shares: &Shares,
        (warp, weft): (&[Seen; 2], &[Seen; 2]),
        ends: &[Strand],
        picks: &[Strand],
        place: (f32, f32),
    ) -> Ink {
        let mut ink = Ink { cover: shares.cover, ..Ink::default() };
        let depth = |seen: &Seen, strand: &Strand| seen.cover * 2.0 * (seen.z - strand.z);
        for i in 0..2 {
            if warp[i].cover > 0.0 {
                ink.thick += depth(&warp[i], &ends[warp[i].strand as usize]);
            }
            if weft[i].cover > 0.0 {
                ink.thick += depth(&weft[i], &picks[weft[i].strand as usize]);
            }
            if shares.warp[i] > LEAST {
                let strand = &ends[warp[i].strand as usize];
                let hit = self.skin.hit(&self.warp, strand, warp[i].off, true);
                ink.add(&self.coated(hit, &warp[i], strand, place), shares.warp[i]);
            }
            if shares.weft[i] > LEAST {
                let strand = &picks[weft[i].strand as usize];
                let hit = self.skin.hit(&self.weft, strand, weft[i].off, false);
                ink.add(&self.coated(hit, &weft[i], strand, place), shares.weft[i]);
            }
        }
        ink
    }

    /// What a hit gives back where ink lies on it; ink dulls the shine.
    #[inline]
    fn coated(&self, mut hit: Hit, seen: &Seen, strand: &Strand, place: (f32, f32)) -> Hit {
        if let Some(coat) = &self.coat {
            let bare = hit.colour;
            hit.colour = coat.over(bare, place, self.top - seen.z, strand.thread, strand.turn);
            if hit.colour != bare {
                hit.sheen *= 0.4;
            }
        }
        hit
    }
}

/// A share of a pixel too small to be worth looking at.
const LEAST: f32 = 0.006;

/// How much of a pixel each strand in it fills.
struct Shares {
    warp: [f32; 2],
    weft: [f32; 2],
    cover: f32,
}

impl Shares {
    #[inline]
    fn of(warp: &[Seen; 2], weft: &[Seen; 2], pixel: f32) -> Self {
        // Neighbours of one system lie side by side in a pixel, so their covers add up; the two systems cross, so they multiply.
        let second = |seen: &[Seen; 2]| seen[1].cover.min(1.0 - seen[0].cover);
        let (warp_rest, weft_rest) = (second(warp), second(weft));
        let (cw, cf) = (warp[0].cover + warp_rest, weft[0].cover + weft_rest);
        // Where the two skins meet the change is spread over a pixel.
        let above = (0.5 + (warp[0].z - weft[0].z) / (1.4 * pixel)).clamp(0.0, 1.0);
        let warp_share = above + (1.0 - above) * (1.0 - cf);
        let weft_share = (1.0 - above) + above * (1.0 - cw);
        Shares {
            warp: [warp[0].cover * warp_share, warp_rest * warp_share],
            weft: [weft[0].cover * weft_share, weft_rest * weft_share],
            cover: cw + cf - cw * cf,
        }
    }
    /// Mean height of what fills the pixel, `ground` where nothing does.
    #[inline]
    fn height(&self, warp: &[Seen; 2], weft: &[Seen; 2], ground: f32) -> f32 {
        let of = |shares: &[f32; 2], seen: &[Seen; 2]| shares[0] * seen[0].z + shares[1] * seen[1].z;
        of(&self.warp, warp) + of(&self.weft, weft) + (1.0 - self.cover) * ground
    }
}

impl Ink {
    #[inline]
    fn add(&mut self, hit: &Hit, share: f32) {
        for i in 0..3 {
            self.lit[i] += share * hit.colour[i] * hit.key;
            self.soft[i] += share * hit.colour[i] * hit.sky;
        }
        self.sheen += share * hit.sheen;
    }
}

/// A thread's linear colour: no two lengths of yarn are dyed or bleached quite alike.
fn dyed(rgb: [u8; 3], seed: u32, thread: i64) -> [f32; 3] {
    let shade = 1.0 + 0.035 * super::chance::normal(seed, thread as u32);
    let warmth = 0.006 * super::chance::normal(seed ^ 5, thread as u32);
    let [r, g, b] = rgb.map(super::tone::linear);
    [r * shade * (1.0 + warmth), g * shade, b * shade * (1.0 - warmth)]
}
