//! The neck of a top: its curves, its opening at the finished edge, the slit that lets the head through, and the facing.
//! Millimetres, y down. The curves leave the centre level and meet the shoulder seams squarely, so that front and back run
//! into one another without a point.

use super::super::curve;
use super::super::figure::Figure;
use super::super::make::{Blank, Making, both_halves, mm};
use super::super::piece::{MarkKind, Opening, Use};
use super::super::rules;
use super::super::wish::NeckStyle;
use super::Torso;
use crate::trade::body::Part;
use kurbo::{BezPath, Point, Rect, Vec2};

/// A neck as decided.
#[derive(Clone, Copy, Debug)]
pub(in super::super) struct Neck {
    /// Half its width.
    pub half: f64,
    pub front: f64,
    pub back: f64,
    slope: f64,
    /// Length of the slit down the front, 0 for none.
    pub slit: f64,
}

/// Fullness of the curve: the handle of a quarter circle as a cubic.
const ROUND: f64 = 0.5523;
/// A shorter slit is not worth its facing, mm.
const SLIT_LEAST: f64 = 20.0;
/// Of a shallow one, flat across the middle.
const FLAT: f64 = 0.62;

/// Half a neck curve from the centre to the side neck point.
fn half_curve(half: f64, depth: f64, slope: f64) -> BezPath {
    let (centre, side) = (Point::new(0.0, depth), Point::new(half, 0.0));
    if depth <= 0.0 {
        return curve::straight(centre, side);
    }
    let square = Vec2::new(-slope, 1.0) / (1.0 + slope * slope).sqrt();
    let level = if depth < 0.5 * half { FLAT } else { ROUND };
    curve::cubic(centre, Point::new(level * half, depth), side + square * (ROUND * depth), side)
}

impl Neck {
    pub(in super::super) fn front_curve(&self) -> BezPath {
        half_curve(self.half, self.front, self.slope)
    }
    pub(in super::super) fn back_curve(&self) -> BezPath {
        half_curve(self.half, self.back, self.slope)
    }
    /// Round the finished edge, without the slit.
    pub(in super::super) fn round(&self) -> f64 {
        2.0 * (curve::length(&self.front_curve()) + curve::length(&self.back_curve()))
    }
    pub(in super::super) fn opening(&self) -> Opening {
        Opening {
            round: self.round(),
            slit: self.slit,
            width: 2.0 * self.half,
            front_depth: self.front,
            back_depth: self.back,
        }
    }
    /// The slit as a line, from the neck edge down.
    pub(in super::super) fn slit_line(&self) -> Option<BezPath> {
        let (top, foot) = (Point::new(0.0, self.front), Point::new(0.0, self.front + self.slit));
        (self.slit > 0.0).then(|| curve::straight(top, foot))
    }
}

/// Settles the neck for a body and the end of its shoulder seam; `None` when a fault was found.
pub(in super::super) fn decide(making: &mut Making, figure: &Figure, torso: &Torso, underarm: f64) -> Option<Neck> {
    let wish = making.wish.neck;
    let style = wish.style.unwrap_or(if torso.slope > 0.0 { NeckStyle::Scoop } else { NeckStyle::Slit });
    let mut neck = usual(figure, torso, style);
    (neck.half, neck.front, neck.back) = (
        mm(wish.width).map_or(neck.half, |w| 0.5 * w),
        mm(wish.front_depth).unwrap_or(neck.front),
        mm(wish.back_depth).unwrap_or(neck.back),
    );
    possible(making, &neck, torso, underarm)?;
    if style == NeckStyle::Close || style == NeckStyle::Keyhole {
        close(&mut neck, figure, wish.front_depth.is_none());
    }
    let head = figure.get(Part::Head);
    if style == NeckStyle::Scoop && wish.front_depth.is_none() {
        deepen(making, &mut neck, head, underarm);
    }
    let round = neck.round();
    let slit = rules::slit_length(head, round);
    // A solved opening is short by its rounding alone.
    neck.slit = if slit < 1e-3 { 0.0 } else { slit };
    if let Some(wished) = mm(making.wish.slit) {
        neck.slit = wished;
        let room = torso.hem - neck.front - 100.0;
        if !(0.0..=room).contains(&wished) {
            let text = format!("a slit of {:.1} cm does not fit: 0 to {:.0} cm does", wished / 10.0, room / 10.0);
            making.fault("bad-neck", &["garment.neck.slit"], text);
            return None;
        }
    } else if neck.slit > 0.0 {
        let say = making.say;
        let text = format!(
            "a slit of {} down the front: the neck is {} round, the head {} and {} to pass",
            say.length(neck.slit),
            say.length(round),
            say.length(head),
            say.length(rules::HEAD_EASE)
        );
        making.says("drafting rule: opening = head + 20 mm; a slit adds twice its length", "garment.neck.slit", text);
    }
    Some(neck)
}

fn usual(figure: &Figure, torso: &Torso, style: NeckStyle) -> Neck {
    let base = figure.get(Part::NeckBase) / 6.0;
    let wanted = figure.get(Part::Head) + rules::HEAD_EASE;
    let slope = torso.slope;
    let at = |half: f64, front: f64, back: f64| Neck { half, front, back, slope, slit: 0.0 };
    let widest = torso.tip.x - rules::SHOULDER_LEAST;
    match style {
        NeckStyle::Scoop => at((base + 32.0).min(widest), base + 27.0, rules::NAPE_DROP),
        NeckStyle::Close | NeckStyle::Keyhole => at(base + 3.0, base + 17.0, rules::NAPE_DROP),
        NeckStyle::Slit => at((0.25 * wanted).min(125.0).min(widest), 0.0, 0.0),
        NeckStyle::Boat => {
            let short = |half: f64| at(half, 40.0, rules::NAPE_DROP).round() - wanted;
            let half = curve::root(60.0, widest.max(61.0), 1e-9, short).unwrap_or(widest);
            at(half, 40.0, rules::NAPE_DROP)
        }
    }
}

/// Deepens a close neck in front until it goes round the neck base with its ease.
fn close(neck: &mut Neck, figure: &Figure, free: bool) {
    let wanted = figure.get(Part::NeckBase) + rules::NECK_EASE;
    if free {
        let short = |front: f64| Neck { front, ..*neck }.round() - wanted;
        if let Some(front) = curve::root(30.0, 250.0, 1e-6, short) {
            neck.front = front;
        }
    }
}

/// Deepens a scoop in front where that saves a slit too short to be worth its facing.
fn deepen(making: &mut Making, neck: &mut Neck, head: f64, underarm: f64) {
    let slit = rules::slit_length(head, neck.round());
    if slit <= 0.0 || slit > SLIT_LEAST {
        return;
    }
    let short = |front: f64| Neck { front, ..*neck }.round() - head - rules::HEAD_EASE;
    let Some(front) = curve::root(neck.front, underarm - 20.0, 1e-9, short) else { return };
    let text = format!(
        "neck {} deeper in front, so that the head passes without a slit",
        making.say.length(front - neck.front)
    );
    neck.front = front;
    making.because("garment.neck.front_depth", text);
}

fn possible(making: &mut Making, neck: &Neck, torso: &Torso, underarm: f64) -> Option<()> {
    let before = making.faults.len();
    let left = torso.tip.x - neck.half;
    if left < rules::SHOULDER_LEAST - 1e-6 {
        let text = format!(
            "a neck {:.1} cm wide leaves {:.1} cm of shoulder seam on each side: it needs {:.0} cm, so at most {:.1} cm wide",
            neck.half / 5.0,
            left / 10.0,
            rules::SHOULDER_LEAST / 10.0,
            (torso.tip.x - rules::SHOULDER_LEAST) / 5.0
        );
        making.fault("neck-wider-than-shoulders", &["garment.neck.width", "garment.body.shoulder_breadth"], text);
    }
    if neck.half < 30.0 {
        let text = format!("a neck {:.1} cm wide is no neck: 6 cm at least", neck.half / 5.0);
        making.fault("bad-neck", &["garment.neck.width"], text);
    }
    let deepest = underarm - 20.0;
    for (key, depth) in [("garment.neck.front_depth", neck.front), ("garment.neck.back_depth", neck.back)] {
        if !(0.0..=deepest).contains(&depth) {
            let text = format!("a neck {:.1} cm deep does not fit: 0 to {:.0} cm does", depth / 10.0, deepest / 10.0);
            making.fault("bad-neck", &[key], text);
        }
    }
    (making.faults.len() == before).then_some(())
}

/// Cuts the facing and sews it to the neck of `front` and `back`; a straight slit along the shoulders is hemmed instead.
pub(in super::super) fn face(
    making: &mut Making,
    neck: &Neck,
    torso: &Torso,
    front: usize,
    back: usize,
    allowance: f64,
) {
    let enclosed = making.enclosed();
    if neck.front <= 0.0 && neck.back <= 0.0 {
        making.hem("neck", allowance, &[(front, "neck"), (back, "neck")], 1);
        if neck.slit > 0.0 {
            slit_facing(making, neck, allowance);
        }
        return;
    }
    let facing_wide = facing_width(making);
    let along = (torso.tip.x - neck.half - allowance).min(facing_wide);
    let deep = facing_wide.max(if neck.slit > 0.0 { neck.slit + rules::SLIT_FACING } else { 0.0 });
    let mut pieces = [0, 0];
    for (i, (name, depth, more)) in
        [("front facing", neck.front, deep), ("back facing", neck.back, facing_wide)].into_iter().enumerate()
    {
        let blank = Blank { edges: facing(neck, depth, along, more), ..Blank::of(name, 1, Vec::new()) };
        let blank = blank.mark(MarkKind::Centre, centre(depth, depth + more), "centre").hidden();
        let blank = match (i, neck.slit_line()) {
            (0, Some(line)) => blank.mark(MarkKind::Slit, line, "slit: cut after stitching"),
            _ => blank,
        };
        pieces[i] = making.add(blank);
        making.treat(pieces[i], "outer", Use::Plain, 0.0);
    }
    let [front_facing, back_facing] = pieces;
    making.sew_as(
        "facing shoulder",
        Default::default(),
        allowance,
        &[(front_facing, "shoulder_right")],
        &[(back_facing, "shoulder_right")],
        2,
    );
    making.sew_as("front neck", Default::default(), enclosed, &[(front, "neck")], &[(front_facing, "neck")], 1);
    making.sew_as("back neck", Default::default(), enclosed, &[(back, "neck")], &[(back_facing, "neck")], 1);
    making.inner_stitching += 2.0 * neck.slit;
}

/// Width of the facing, as wished or usual.
fn facing_width(making: &mut Making) -> f64 {
    let wide = mm(making.wish.facing).unwrap_or(rules::FACING);
    let (low, high) = rules::FACING_BOUNDS;
    if !(low..=high).contains(&wide) {
        let text = format!("a facing {wide:.1} mm wide cannot be sewn: {low:.0} to {high:.0} mm can");
        making.fault("bad-facing", &["garment.facing"], text);
        return rules::FACING;
    }
    wide
}

fn facing(neck: &Neck, depth: f64, along: f64, more: f64) -> Vec<(String, BezPath)> {
    let run = Vec2::new(1.0, neck.slope) / (1.0 + neck.slope * neck.slope).sqrt();
    let side = Point::new(neck.half, 0.0);
    let end = side + run * along;
    let square = Vec2::new(-run.y, run.x);
    let foot = Point::new(0.0, depth + more);
    // The outer edge hangs from the shoulder and runs level over the centre.
    let outer = curve::cubic(end, end + square * (ROUND * foot.y), Point::new(ROUND * end.x, foot.y), foot);
    both_halves(vec![
        ("neck", half_curve(neck.half, depth, neck.slope)),
        ("shoulder", curve::straight(side, end)),
        ("outer", outer),
    ])
}

fn slit_facing(making: &mut Making, neck: &Neck, allowance: f64) {
    let area = Rect::new(-rules::SLIT_FACING, 0.0, rules::SLIT_FACING, neck.slit + rules::SLIT_FACING);
    let blank = Blank::rectangle("slit facing", 1, area, ["top", "right", "foot", "left"]);
    let line = neck.slit_line().unwrap_or_default();
    let piece = making.add(blank.mark(MarkKind::Slit, line, "slit: cut after stitching").hidden());
    making.treat(piece, "top", Use::Plain, allowance);
    making.inner_stitching += 2.0 * neck.slit;
}

fn centre(from: f64, to: f64) -> BezPath {
    curve::straight(Point::new(0.0, from), Point::new(0.0, to))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Identity: with level shoulders a scoop is nearly two half ellipses, and those of 19 cm by 9 and 2 cm are 290.6 and
    /// 201.8 mm round (Ramanujan's formula).
    #[test]
    fn a_scoop_of_19_by_9_and_2_is_49_cm_round() {
        let round = Neck { half: 95.0, front: 90.0, back: 20.0, slope: 0.0, slit: 0.0 }.round();
        assert!((round - 492.4).abs() < 3.0, "{round}");
        assert!((rules::slit_length(570.0, round) - 49.0).abs() < 1.5);
    }

    #[test]
    fn curves_meet_the_centre_and_the_shoulder_squarely() {
        for (half, depth) in [(95.0, 90.0), (95.0, 20.0), (66.0, 98.0), (150.0, 40.0)] {
            let path = half_curve(half, depth, rules::SHOULDER_SLOPE);
            let (_, leaves) = curve::at(&path, 0.0);
            let (_, arrives) = curve::at(&path, curve::length(&path));
            assert!(leaves.y.abs() < 1e-6, "level at the centre");
            assert!(arrives.dot(Vec2::new(1.0, rules::SHOULDER_SLOPE)).abs() < 1e-3, "square at the shoulder");
        }
    }
}
