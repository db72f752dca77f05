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

/// Sheets or segments to cut or print; nothing for strips and string, which are sawn and tied.
///
/// # Errors
/// A comb with no slot, or too many pitches for one outline.
pub fn cut(h: &Heddle) -> Result<Vec<Cut>, Refusal> {
    if h.gap <= 0.0 {
        return Err(Refusal::new("heddle", "blades leave no slot: nothing to cut"));
    }
    let heddles = h.wish.heddles;
    let thick = h.wish.style.way().thick;
    match h.wish.style {
        Style::Sheet => {
            let words = format!("heddle sheet, {} slots and {} eyes", h.slots, h.eyes);
            Ok(vec![Cut { outline: front_of(h, h.eyes), thick, how_many: heddles, words }])
        }
        Style::Printed => {
            let (full, rest) = (h.eyes / SEGMENT_PITCHES, h.eyes % SEGMENT_PITCHES);
            let piece = |pitches: u32, how_many: u32| Cut {
                outline: segment(h, pitches),
                thick,
                how_many,
                words: format!("heddle segment of {pitches} pitches"),
            };
            let mut out = Vec::new();
            if full > 0 {
                out.push(piece(SEGMENT_PITCHES, full * heddles));
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
    let mut outline = Outline::solid(rounded([0.0, 0.0], [wide, high], 4.0, 5));
    for i in 0..=pitches {
        outline.holes.push(slot(h, SIDE + f64::from(i) * h.pitch));
    }
    for i in 0..pitches {
        outline.holes.push(eye(h, SIDE + f64::from(i) * h.pitch + h.gap + h.wish.blade / 2.0));
    }
    outline
}

/// A printed segment: blades and eyes between half-blades would be weak, so each segment starts with a slot and ends with a
/// blade; tongues of the rims lock into the next one's notches.
pub fn segment(h: &Heddle, pitches: u32) -> Outline {
    let high = h.wish.slot_height + 2.0 * RIM;
    let wide = f64::from(pitches) * h.pitch;
    // The first slot is open to the left and closed by the neighbour's last blade.
    let (neck, head, long, play) = (5.0, 8.0, 6.0, 0.15);
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

fn slot(h: &Heddle, left: f64) -> Vec<[f64; 2]> {
    rounded([left, RIM], [left + h.gap, RIM + h.wish.slot_height], h.gap / 2.0, 4)
}

fn eye(h: &Heddle, middle: f64) -> Vec<[f64; 2]> {
    circle([middle, RIM + h.wish.slot_height / 2.0], h.wish.eye / 2.0, EYE_CORNERS)
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
