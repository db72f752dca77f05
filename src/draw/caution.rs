//! The caution box: what can hurt at this step, in a few plain sentences, and to which codes it defers. The words stand here
//! once, so that the same hazard reads the same on every sheet. They are common practice; the standards named are the ones
//! to look up, not a claim that a sheet meets them.

use kurbo::{Point, Rect, Shape};

use crate::draw::sheet::{Anchor, Draw, Fill, Item, Line, Type};
use crate::draw::text;

/// A thing that can hurt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hazard {
    Mains,
    Current,
    Rotation,
    Blades,
    Laser,
    Dust,
    HotGlue,
    Tension,
    Scouring,
    Dyes,
    Ink,
    ChildWear,
    Needle,
    Iron,
}

impl Hazard {
    /// Every hazard there is.
    pub const ALL: [Hazard; 14] = [
        Hazard::Mains,
        Hazard::Current,
        Hazard::Rotation,
        Hazard::Blades,
        Hazard::Laser,
        Hazard::Dust,
        Hazard::HotGlue,
        Hazard::Tension,
        Hazard::Scouring,
        Hazard::Dyes,
        Hazard::Ink,
        Hazard::ChildWear,
        Hazard::Needle,
        Hazard::Iron,
    ];

    /// Its name, what to do, and the codes to look up (from memory unless the sentence says otherwise).
    pub fn words(self) -> (&'static str, &'static str, &'static str) {
        match self {
            Hazard::Mains => (
                "Mains electricity",
                "Mains stays inside a bought, enclosed, approved supply. Never open it and never wire mains yourself: that is \
                 work for a licensed electrician. Keep water away.",
                "IEC 60364-4-41, NFPA 70",
            ),
            Hazard::Current => (
                "Motor current",
                "Fuse the supply's output. Even a low voltage burns fingers and starts fires when it is shorted. Unplug before \
                 you touch a wire. Never run the motor above its rating. Reverse only when it has stopped.",
                "IEC 60204-1, IEC 61140",
            ),
            Hazard::Rotation => (
                "Turning parts",
                "Tie back hair; no scarf, loose sleeve or glove near the flyer. Guard the belt and its nips before the first \
                 run. Stop before you clear a snarl. Run a new flyer behind a board and stand out of its plane. Keep the stop \
                 within reach.",
                "ISO 12100, ISO 14120, ISO 13857, 29 CFR 1910.212 and .219",
            ),
            Hazard::Blades => (
                "Saws, drills and blades",
                "Wear eye protection. Clamp the work, leave guards on, keep both hands out of the line of the cut. Cut away \
                 from yourself. Thin strips break: push them with a stick.",
                "EN 166 or ANSI Z87.1, ISO 19085",
            ),
            Hazard::Laser => (
                "Laser cutting",
                "Never cut PVC: its smoke is poison. Wood, acrylic and acetal burn: draw off the smoke and watch the cut to its \
                 end.",
                "IEC 60825-1",
            ),
            Hazard::Dust => (
                "Dust",
                "Wood, cotton and flax dust harm lungs and can burn. Draw it off or work outdoors, wear an FFP2 or N95 mask, \
                 wipe up damp.",
                "29 CFR 1910.1043, Directive (EU) 2017/2398",
            ),
            Hazard::HotGlue => (
                "Hot glue",
                "It is 120 to 200 °C and sticks to skin: have cold water ready. It softens and lets go under load: not for a \
                 joint that carries one.",
                "the glue maker's sheet",
            ),
            Hazard::Tension => (
                "A tight warp",
                "The beams hold the pull of a heavy sack. Hold the handle before you lift a pawl. Keep fingers out of the \
                 ratchet. Let the warp off when you stop for the day.",
                "ISO 12100",
            ),
            Hazard::Scouring => (
                "Soda, lye, peroxide, bleach",
                "Gloves and goggles. Lye goes into cold water, never water into lye. No aluminium pots, none that cook food. \
                 Never mix bleach with anything. Hot baths scald: air the room. Keep retting water out of streams.",
                "EN ISO 374-1, Regulation (EU) 2019/1148, the label",
            ),
            Hazard::Dyes => (
                "Dyes and mordants",
                "Do not breathe the powder or the steam. Pots for dye never cook food. Alum and iron rather than chrome, tin or \
                 copper. Gloves and a mask.",
                "REACH Annex XVII, the label",
            ),
            Hazard::Ink => (
                "Ink curing and cleaning",
                "Air the room. Cure by the ink maker's time and heat, never in an oven that cooks food. Rags with solvent can \
                 catch fire by themselves: lay them flat outdoors to dry.",
                "the ink maker's safety sheet",
            ),
            Hazard::ChildWear => (
                "Clothes for children",
                "No cords at neck or hood. Napped and open cotton flames easily: keep it from fire.",
                "EN 14682, 16 CFR 1610",
            ),
            Hazard::Needle => (
                "Needle, pins, shears",
                "Keep fingers clear of the needle and the foot off the pedal while you thread it or change it. Pull pins out \
                 before the foot reaches them. Close the shears when you lay them down.",
                "the sewing machine's own manual",
            ),
            Hazard::Iron => (
                "Hot iron",
                "It burns skin and scorches cloth: try the heat on a scrap, stand it on its heel, pull the plug when you leave.",
                "the iron's own manual",
            ),
        }
    }
}

/// The sentence under every caution.
pub const DEFER: &str = "Local codes, the maker's instructions and licensed practice come first.";

/// Inner margin of the box.
const PAD: f64 = 3.0;
/// Room for the sign left of the words.
const SIGN: f64 = 13.0;

/// Draws the cautions `hazards` in one box `wide` millimetres wide at `top_left`; gives the y below it. Nothing for none.
pub fn draw(draw: &mut impl Draw, top_left: impl Into<Point>, wide: f64, hazards: &[Hazard]) -> f64 {
    let at = top_left.into();
    if hazards.is_empty() {
        return at.y;
    }
    let mut inner: Vec<Item> = Vec::new();
    let (x, room) = (at.x + SIGN, (wide - SIGN - PAD).max(20.0));
    let mut y = at.y + PAD - 0.6;
    for hazard in hazards {
        let (name, say, codes) = hazard.words();
        inner.words(Type::Caution, Anchor::Start, (x, text::base(Type::Caution, y)), name);
        y = text::paragraph(&mut inner, Type::Small, (x, y + text::leading(Type::Caution)), room, say);
        y = text::paragraph(&mut inner, Type::Note, (x, y), room, &format!("Look up: {codes}.")) + 1.4;
    }
    y = text::paragraph(&mut inner, Type::Small, (x, y - 0.4), room, DEFER) + PAD - 0.6;
    let frame = Rect::new(at.x, at.y, at.x + wide, y);
    let names: Vec<&str> = hazards.iter().map(|h| h.words().0).collect();
    draw.group("caution", Some(&format!("Caution: {}", names.join(", "))), kurbo::Affine::IDENTITY, |g| {
        g.area(Fill::Paper, Some(Line::Cut), frame.to_path(0.1));
        sign(g, Point::new(at.x + SIGN / 2.0 - 0.2, at.y + PAD + 4.4), 8.6);
        g.append(&mut inner);
    });
    y
}

/// Height of the box without drawing it.
pub fn height(wide: f64, hazards: &[Hazard]) -> f64 {
    draw(&mut Vec::new(), (0.0, 0.0), wide, hazards)
}

/// The warning triangle, its middle at `centre`, `wide` millimetres wide.
pub fn sign(draw: &mut impl Draw, centre: Point, wide: f64) {
    let high = wide * 0.88;
    let (left, right) = (centre.x - wide / 2.0, centre.x + wide / 2.0);
    let (top, bottom) = (centre.y - high * 0.56, centre.y + high * 0.44);
    let corners = [Point::new(left, bottom), Point::new(centre.x, top), Point::new(right, bottom)];
    draw.polygon(Fill::Danger, None, corners);
    let stem = [
        Point::new(centre.x - wide * 0.062, top + high * 0.33),
        Point::new(centre.x + wide * 0.062, top + high * 0.33),
        Point::new(centre.x + wide * 0.036, top + high * 0.68),
        Point::new(centre.x - wide * 0.036, top + high * 0.68),
    ];
    draw.polygon(Fill::Paper, None, stem);
    draw.spot(Fill::Paper, (centre.x, top + high * 0.80), wide * 0.055);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent;

    #[test]
    fn the_box_holds_its_words_and_defers() {
        for wide in [60.0, 120.0, 190.0] {
            let mut items = Vec::new();
            let bottom = draw(&mut items, (10.0, 10.0), wide, &Hazard::ALL);
            let extent = extent::of(&items).expect("drawn");
            assert!(
                extent.x1 <= 10.0 + wide + 1e-6 && extent.y1 <= bottom + 1e-6 && extent.x0 >= 10.0 - 1e-6,
                "{extent:?}"
            );
            assert!((height(wide, &Hazard::ALL) - (bottom - 10.0)).abs() < 1e-9);
        }
        assert_eq!(height(100.0, &[]), 0.0);
        for hazard in Hazard::ALL {
            let (name, say, codes) = hazard.words();
            assert!(!name.is_empty() && say.ends_with('.') && !codes.is_empty() && !say.contains("  "), "{hazard:?}");
        }
        assert!(DEFER.contains("Local codes"));
    }
}
