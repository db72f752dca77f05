//! Outlines of a heddle: the whole sheet for a laser, segments that lock together for a printer.

use super::{Heddle, Style};
use crate::machine::Refusal;
use crate::machine::shape::{Outline, circle, rounded};

/// Solid rim above and below the slots, mm.
pub const RIM: f64 = 16.0;
/// Solid side beside the last slot, mm.
pub const SIDE: f64 = 14.0;
/// Pitches in one printed segment, at most: a hand wide on a common bed.
pub const SEGMENT_PITCHES: u32 = 40;
/// How far a printed segment's tongue stands out, mm.
const TONGUE: f64 = 6.0;
/// Corners of an eye.
const EYE_CORNERS: usize = 16;

/// What to cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    pub outline: Outline,
    /// Thickness of the stuff.
    pub thick: f64,
    /// How many of it for all heddles.
    pub how_many: u32,
    pub words: String,
}

impl Heddle {
    /// Pitches in one sheet or segment, the last left out: what the cutter's or printer's width takes.
    fn pitches_a_piece(&self) -> u32 {
        let room = match (self.wish.style, self.wish.segment) {
            (Style::Sheet, Some(wide)) => (wide - SIDE - self.gap) / self.pitch,
            // a tongue stands out of each printed segment
            (Style::Printed, Some(wide)) => (wide - TONGUE) / self.pitch,
            (Style::Printed, None) => f64::from(SEGMENT_PITCHES),
            _ => return self.eyes.max(1),
        };
        (room.max(1.0) as u32).clamp(1, self.eyes.max(1))
    }
    /// What a cutter takes; a printer's outline is the true one.
    fn kerf(&self) -> f64 {
        if self.wish.style == Style::Sheet { self.wish.cutter } else { 0.0 }
    }
    /// Pieces one heddle is cut or printed in.
    pub fn pieces(&self) -> u32 {
        self.eyes.max(1).div_ceil(self.pitches_a_piece())
    }
}

/// Sheets or segments to cut or print; nothing for strips and string, which are sawn and tied.
///
/// # Errors
/// A comb with no slot, or one that a cutter's width leaves nothing of.
pub fn cut(h: &Heddle) -> Result<Vec<Cut>, Refusal> {
    if h.gap <= 0.0 {
        return Err(Refusal::new("heddle", "blades leave no slot: nothing to cut"));
    }
    if h.gap <= h.wish.cutter && h.wish.style == Style::Sheet {
        let ruler = h.wish.system.ruler();
        let (cutter, gap) = (ruler.says_fine(h.wish.cutter), ruler.says_fine(h.gap));
        let words = format!("a cutter of {cutter} cannot cut a slot of {gap}");
        return Err(Refusal::new("heddle", words));
    }
    let heddles = h.wish.heddles;
    let thick = h.wish.thick();
    match h.wish.style {
        Style::Sheet if h.pieces() == 1 => {
            let words = format!("heddle sheet, {} slots and {} eyes", h.slots, h.eyes);
            Ok(vec![Cut { outline: front_of(h, h.eyes), thick, how_many: heddles, words }])
        }
        Style::Sheet => Ok(parted(h)),
        Style::Printed => {
            let each = h.pitches_a_piece();
            let (full, rest) = (h.eyes / each, h.eyes % each);
            let piece = |pitches: u32, how_many: u32| Cut {
                outline: segment(h, pitches),
                thick,
                how_many,
                words: format!("heddle segment of {pitches} pitches"),
            };
            let mut out = Vec::new();
            if full > 0 {
                out.push(piece(each, full * heddles));
            }
            if rest > 0 {
                out.push(piece(rest, heddles));
            }
            Ok(out)
        }
        Style::Strips | Style::String => Ok(Vec::new()),
    }
}

/// The comb of `pitches` pitches with solid sides, lower left corner at the origin: slot, blade with eye, … , slot.
pub fn front_of(h: &Heddle, pitches: u32) -> Outline {
    let high = h.wish.slot_height + 2.0 * RIM;
    let wide = f64::from(pitches) * h.pitch + h.gap + 2.0 * SIDE;
    let k = h.wish.cutter / 2.0;
    let mut outline = Outline::solid(rounded([-k, -k], [wide + k, high + k], 4.0, 5));
    for i in 0..=pitches {
        outline.holes.push(slot(h, SIDE + f64::from(i) * h.pitch));
    }
    for i in 0..pitches {
        outline.holes.push(eye(h, SIDE + f64::from(i) * h.pitch + h.gap + h.wish.blade / 2.0));
    }
    outline
}

/// A sheet too wide for the cutter, in pieces that meet in the middle of a slot: first, middle ones, last.
fn parted(h: &Heddle) -> Vec<Cut> {
    let (each, pieces) = (h.pitches_a_piece(), h.pieces());
    let (thick, heddles) = (h.wish.thick(), h.wish.heddles);
    let piece = |pitches: u32, (first, last): (bool, bool), how_many: u32, which: &str| Cut {
        outline: part_of(h, pitches, first, last),
        thick,
        how_many,
        words: format!("heddle sheet, {which} piece, {pitches} eyes"),
    };
    let mut out = vec![piece(each, (true, false), heddles, "left")];
    if pieces > 2 {
        out.push(piece(each, (false, false), heddles * (pieces - 2), "middle"));
    }
    out.push(piece(h.eyes - each * (pieces - 1), (false, true), heddles, "right"));
    out
}

/// Some pitches of a sheet; a side that is not the comb's own end runs down the middle of a slot, and its two rims butt
/// against the next piece's.
fn part_of(h: &Heddle, pitches: u32, first: bool, last: bool) -> Outline {
    let high = h.wish.slot_height + 2.0 * RIM;
    let k = h.wish.cutter / 2.0;
    // x of the first slot's left edge, so that an open side lies at 0
    let from = if first { SIDE } else { -h.gap / 2.0 };
    let end = from + f64::from(pitches) * h.pitch;
    let right = if last { end + h.gap + SIDE } else { end + h.gap / 2.0 };
    let (low, top) = (RIM + k, RIM + h.wish.slot_height - k);
    let mut outer: Vec<[f64; 2]> = vec![[-k, -k], [right + k, -k]];
    if !last {
        outer.extend([[right + k, low], [end + k, low], [end + k, top], [right + k, top]]);
    }
    outer.extend([[right + k, high + k], [-k, high + k]]);
    if !first {
        let blade = h.gap / 2.0 - k;
        outer.extend([[-k, top], [blade, top], [blade, low], [-k, low]]);
    }
    let mut outline = Outline::solid(outer);
    let whole = u32::from(!first)..pitches + u32::from(last);
    outline.holes.extend(whole.map(|i| slot(h, from + f64::from(i) * h.pitch)));
    outline.holes.extend((0..pitches).map(|i| eye(h, from + f64::from(i) * h.pitch + h.gap + h.wish.blade / 2.0)));
    outline
}

/// A printed segment: blades and eyes between half-blades would be weak, so each segment starts with a slot and ends with a
/// blade; tongues of the rims lock into the next one's notches.
pub fn segment(h: &Heddle, pitches: u32) -> Outline {
    let high = h.wish.slot_height + 2.0 * RIM;
    let wide = f64::from(pitches) * h.pitch;
    // The first slot is open to the left and closed by the neighbour's last blade.
    let (neck, head, long, play) = (5.0, 8.0, TONGUE, 0.15);
    let tongue = |y: f64| {
        [
            [wide, y - neck / 2.0],
            [wide + long * 0.5, y - neck / 2.0],
            [wide + long * 0.5, y - head / 2.0],
            [wide + long, y - head / 2.0],
            [wide + long, y + head / 2.0],
            [wide + long * 0.5, y + head / 2.0],
            [wide + long * 0.5, y + neck / 2.0],
            [wide, y + neck / 2.0],
        ]
    };
    let notch = |y: f64| {
        let (n, e, l) = (neck / 2.0 + play, head / 2.0 + play, long + play);
        [
            [0.0, y + n],
            [long * 0.5 - play, y + n],
            [long * 0.5 - play, y + e],
            [l, y + e],
            [l, y - e],
            [long * 0.5 - play, y - e],
            [long * 0.5 - play, y - n],
            [0.0, y - n],
        ]
    };
    let (low, top) = (RIM / 2.0, high - RIM / 2.0);
    let mut outer: Vec<[f64; 2]> = vec![[0.0, 0.0], [wide, 0.0]];
    outer.extend(tongue(low));
    outer.extend(tongue(top));
    outer.extend([[wide, high], [0.0, high]]);
    outer.extend(notch(top));
    outer.extend([[0.0, high - RIM], [h.gap, high - RIM], [h.gap, RIM], [0.0, RIM]]);
    outer.extend(notch(low));
    let mut outline = Outline::solid(outer);
    for i in 0..pitches {
        let left = f64::from(i) * h.pitch;
        if i > 0 {
            outline.holes.push(slot(h, left));
        }
        outline.holes.push(eye(h, left + h.gap + h.wish.blade / 2.0));
    }
    outline
}

/// A slot and an eye as the cutter's middle runs: narrower by half its width all round.
fn slot(h: &Heddle, left: f64) -> Vec<[f64; 2]> {
    let k = h.kerf() / 2.0;
    let (low, high) = ([left + k, RIM + k], [left + h.gap - k, RIM + h.wish.slot_height - k]);
    rounded(low, high, h.gap / 2.0 - k, 4)
}

fn eye(h: &Heddle, middle: f64) -> Vec<[f64; 2]> {
    circle([middle, RIM + h.wish.slot_height / 2.0], (h.wish.eye - h.kerf()) / 2.0, EYE_CORNERS)
}

#[cfg(test)]
mod tests {
    use super::super::{Wish, tests::tern_bay, work_out};
    use super::*;
    use crate::machine::shape::mesh::Mesh;

    /// Segments are closed, hold the outline's volume, and all pitches are there.
    #[test]
    fn segments_are_watertight() {
        let h = work_out(&Wish { style: Style::Printed, sett: 11.0, blade: 2.0, ..tern_bay() }).unwrap();
        let cuts = cut(&h).unwrap();
        let pitches: u32 = cuts.iter().map(|c| c.how_many * (c.outline.holes.len() as u32).div_ceil(2)).sum();
        assert_eq!(pitches, h.eyes * h.wish.heddles);
        for c in &cuts {
            let proof = Mesh::plate(&c.outline, 0.0, c.thick).unwrap().prove().unwrap();
            assert!((proof.volume - c.thick * c.outline.area()).abs() / proof.volume < 1e-4);
            assert_eq!(proof.handles as usize, c.outline.holes.len());
        }
    }

    /// A tongue lies inside the next segment's notch with the play left all round.
    #[test]
    fn tongue_fits_notch() {
        let h = work_out(&Wish { style: Style::Printed, sett: 11.0, blade: 2.0, ..tern_bay() }).unwrap();
        let one = segment(&h, 10);
        let next = one.moved([10.0 * h.pitch, 0.0]);
        let area = |o: &Outline| o.area();
        assert!(area(&one) > 0.0 && next.bounds().0[0] < one.bounds().1[0], "they interlock");
        // The blade that closes the neighbour's open slot stands exactly at its edge.
        assert!((next.bounds().0[0] - 10.0 * h.pitch).abs() < 1e-9);
    }

    /// A cutter of 0.2 mm: the line it follows leaves slots and eyes of the true size, and the sheet keeps its own.
    #[test]
    fn the_cutters_width_is_allowed_for() {
        let plain = cut(&work_out(&tern_bay()).unwrap()).unwrap();
        let cutter = cut(&work_out(&Wish { cutter: 0.2, ..tern_bay() }).unwrap()).unwrap();
        let wide = |c: &Cut, hole: usize| {
            let xs = c.outline.holes[hole].iter().map(|p| p[0]);
            xs.clone().fold(f64::MIN, f64::max) - xs.fold(f64::MAX, f64::min)
        };
        for hole in [0, plain[0].outline.holes.len() - 1] {
            assert!((wide(&plain[0], hole) - wide(&cutter[0], hole) - 0.2).abs() < 1e-9);
        }
        let (a, b) = (plain[0].outline.bounds(), cutter[0].outline.bounds());
        assert!((b.1[0] - b.0[0] - (a.1[0] - a.0[0]) - 0.2).abs() < 1e-9);
    }

    /// A bed of 300 mm: three pieces that together hold every eye and, with two slots halved between them, every slot.
    #[test]
    fn a_wide_sheet_is_parted_in_a_slot() {
        let h = work_out(&Wish { segment: Some(300.0), ..tern_bay() }).unwrap();
        let cuts = cut(&h).unwrap();
        let (mut wide, mut holes, mut pieces) = (0.0, 0, 0);
        for c in &cuts {
            let (low, high) = c.outline.bounds();
            assert!(high[0] - low[0] <= 300.0 + 1e-9, "{}", c.words);
            let n = c.how_many / h.wish.heddles;
            wide += f64::from(n) * (high[0] - low[0]);
            holes += n * c.outline.holes.len() as u32;
            pieces += n;
            assert!(Mesh::plate(&c.outline, 0.0, c.thick).unwrap().prove().is_ok(), "{}", c.words);
        }
        assert_eq!((pieces, holes), (h.pieces(), h.eyes + h.slots - (pieces - 1)));
        assert!((wide - (h.comb + 2.0 * SIDE)).abs() < 1e-6, "{wide} {}", h.comb);
    }

    #[test]
    fn the_sheet_has_every_hole() {
        let h = work_out(&tern_bay()).unwrap();
        let sheet = &cut(&h).unwrap()[0];
        assert_eq!(sheet.outline.holes.len() as u32, h.slots + h.eyes);
        assert_eq!(sheet.how_many, 2);
        let (low, high) = sheet.outline.bounds();
        assert!((high[0] - low[0] - (h.comb + 2.0 * SIDE)).abs() < 1e-6);
    }
}
