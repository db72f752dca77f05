//! The questions of fit of a top, as numbers. Millimetres in, amounts out.

use super::super::curve;
use super::super::figure::Figure;
use super::super::fit::{Amount, Bound, Fit};
use super::super::make::Making;
use super::super::piece::PRACTICE;
use super::super::rules;
use super::Torso;
use super::neck::Neck;
use super::shaped::Below;
use super::sleeve::Sleeve;
use crate::trade::body::Part;

const ARM_KNOBS: &[&str] = &["garment.ease.upper_arm"];
const BODY_KNOBS: &[&str] = &["garment.ease.chest"];

/// A length that must be at least another, with both in the sentence.
struct Least {
    code: &'static str,
    name: &'static str,
    value: f64,
    limit: f64,
    knobs: &'static [&'static str],
    source: &'static str,
}

fn least(making: &mut Making, must: bool, q: Least, sentence: impl FnOnce(&dyn Fn(f64) -> String) -> String) {
    let say = making.say;
    making.fits.push(Fit {
        code: q.code,
        name: q.name,
        value: Amount::mm(q.value),
        limit: Amount::mm(q.limit),
        bound: Bound::AtLeast,
        must,
        text: sentence(&|mm| say.length(mm)),
        knobs: q.knobs,
        source: q.source,
    });
}

/// Questions of both cuts.
pub(super) fn both(making: &mut Making, figure: &Figure, torso: &Torso, neck: &Neck) {
    head(making, figure, neck);
    let chest = figure.get(Part::Chest);
    let girth = 4.0 * torso.quarter;
    let q = Least {
        code: "chest-passes",
        name: "ease at the chest",
        value: girth - chest,
        limit: rules::CHEST_EASE_LEAST,
        knobs: BODY_KNOBS,
        source: PRACTICE,
    };
    least(making, false, q, |say| {
        format!(
            "{} round the body on a chest of {}: {} of ease; a top without opening that does not stretch wants {}",
            say(girth),
            say(chest),
            say(girth - chest),
            say(rules::CHEST_EASE_LEAST)
        )
    });
    let breadth = figure.get(Part::ShoulderBreadth);
    let q = Least {
        code: "shoulders-pass",
        name: "width for the shoulders",
        value: 2.0 * torso.quarter,
        limit: breadth + rules::SHOULDERS_PASS,
        knobs: BODY_KNOBS,
        source: PRACTICE,
    };
    least(making, true, q, |say| {
        format!(
            "{} flat for shoulders {} broad: {} more are wanted",
            say(2.0 * torso.quarter),
            say(breadth),
            say(rules::SHOULDERS_PASS)
        )
    });
    hip(making, figure, torso);
    walk(making, figure, torso);
    let shoulder = (torso.tip.x - neck.half) * (1.0 + torso.slope * torso.slope).sqrt();
    let q = Least {
        code: "shoulder-seam-holds",
        name: "length of the shoulder seam",
        value: shoulder,
        limit: rules::SHOULDER_LEAST,
        knobs: &["garment.neck.width"],
        source: PRACTICE,
    };
    least(making, true, q, |say| {
        format!(
            "shoulder seam {} long beside the neck; under {} the top slips off",
            say(shoulder),
            say(rules::SHOULDER_LEAST)
        )
    });
}

fn head(making: &mut Making, figure: &Figure, neck: &Neck) {
    let (head, round) = (figure.get(Part::Head), neck.round());
    let q = Least {
        code: "head-passes",
        name: "neck opening",
        value: round + 2.0 * neck.slit,
        limit: head + rules::HEAD_EASE,
        knobs: &["garment.neck.front_depth", "garment.neck.width", "garment.neck.style"],
        source: "drafting rule: opening at the finished edge = head + 20 mm; a slit adds twice its length",
    };
    least(making, true, q, |say| {
        let slit = if neck.slit > 0.0 { format!(" and a slit of {}", say(neck.slit)) } else { String::new() };
        format!("neck {} round{slit} for a head of {} and {} more", say(round), say(head), say(rules::HEAD_EASE))
    });
}

fn hip(making: &mut Making, figure: &Figure, torso: &Torso) {
    if !torso.over_hip {
        return;
    }
    let (hip, girth) = (figure.get(Part::Hip), 4.0 * torso.quarter);
    let q = Least {
        code: "hip-ease",
        name: "ease at the hip",
        value: girth - hip,
        limit: rules::HIP_EASE_LEAST,
        knobs: &["garment.ease.hip", "garment.ease.chest", "garment.length"],
        source: "published ease for woven garments: hips 2 to 2 3/4 in",
    };
    least(making, true, q, |say| {
        format!("{} round the hem on a hip of {}: {} of ease", say(girth), say(hip), say(girth - hip))
    });
}

fn walk(making: &mut Making, figure: &Figure, torso: &Torso) {
    let height = figure.get(Part::NapeHeight) - torso.length;
    let girth = 4.0 * torso.quarter;
    let needed = rules::walking_girth(figure.get(Part::Stature), figure.get(Part::Hip), height);
    let q = Least {
        code: "hem-walks",
        name: "hem for a step",
        value: girth,
        limit: needed,
        knobs: &["garment.ease.hip", "garment.length"],
        source: PRACTICE,
    };
    least(making, true, q, |say| {
        if needed > 0.0 {
            format!("hem {} round, {} above the floor: a step there wants {}", say(girth), say(height), say(needed))
        } else {
            format!("the hem hangs {} above the floor, above where a step spreads it", say(height))
        }
    });
}

fn arm(making: &mut Making, figure: &Figure, girth: f64) {
    let arm = figure.get(Part::UpperArm);
    let q = Least {
        code: "arm-ease",
        name: "ease at the upper arm",
        value: girth - arm,
        limit: rules::ARM_EASE_LEAST,
        knobs: ARM_KNOBS,
        source: "published ease for woven garments: upper arm 2 in at least",
    };
    least(making, true, q, |say| {
        format!("sleeve {} round on an arm of {}: {} of ease", say(girth), say(arm), say(girth - arm))
    });
}

fn cuff(making: &mut Making, figure: &Figure, cuff: f64, to_hand: bool) {
    let (part, ease, word) =
        if to_hand { (Part::Hand, rules::HAND_EASE, "hand") } else { (Part::Wrist, rules::HAND_EASE, "wrist") };
    let girth = figure.get(part);
    let q = Least {
        code: "hand-passes",
        name: "sleeve hem",
        value: cuff,
        limit: girth + ease,
        knobs: ARM_KNOBS,
        source: PRACTICE,
    };
    least(making, true, q, |say| {
        format!("sleeve hem {} round for a {word} of {} and {} to pass", say(cuff), say(girth), say(ease))
    });
}

/// Questions of a shaped top.
pub(super) fn shaped(making: &mut Making, figure: &Figure, torso: &Torso, sleeve: &Sleeve, below: &Below, neck: &Neck) {
    both(making, figure, torso, neck);
    arm(making, figure, sleeve.girth);
    cuff(making, figure, below.cuff, below.to_hand);
    let armhole = curve::length(&sleeve.armhole_front) + curve::length(&sleeve.armhole_back);
    let cap = curve::length(&sleeve.cap_front) + curve::length(&sleeve.cap_back);
    let say = making.say;
    making.fits.push(Fit {
        code: "sleeve-meets-armhole",
        name: "sleeve cap less armhole",
        value: Amount::mm((cap - armhole).abs()),
        limit: Amount::mm(rules::SLEEVE_MATCH),
        bound: Bound::AtMost,
        must: true,
        text: format!(
            "sleeve cap {} and armhole {} round, sewn together without easing",
            say.length(cap),
            say.length(armhole)
        ),
        knobs: &[],
        source: PRACTICE,
    });
    let angle = (libm::atan(sleeve.cap / (0.5 * sleeve.girth)) + libm::atan(torso.slope)).to_degrees();
    making.fits.push(Fit {
        code: "arms-lift",
        name: "fall of the sleeve below level",
        value: Amount::deg(angle),
        limit: Amount::deg(rules::HANG_MOST),
        bound: Bound::AtMost,
        must: false,
        text: format!(
            "the sleeve stands {angle:.0}° below level; over {:.0}° the hem rides up when the arms are lifted",
            rules::HANG_MOST
        ),
        knobs: ARM_KNOBS,
        source: PRACTICE,
    });
}

/// Questions of a straight top: `girth` round the sleeve without its gusset, `gusset` the side of that square.
pub(super) fn straight(making: &mut Making, figure: &Figure, torso: &Torso, neck: &Neck, girth: f64, gusset: f64) {
    both(making, figure, torso, neck);
    arm(making, figure, girth);
    cuff(making, figure, girth, false);
    let depth = 0.5 * girth + gusset;
    let wanted = 0.25 * figure.get(Part::Chest) + 40.0;
    let q = Least {
        code: "arms-lift",
        name: "depth at the underarm with its gusset",
        value: depth,
        limit: wanted,
        knobs: &["garment.gusset", "garment.ease.upper_arm"],
        source: PRACTICE,
    };
    least(making, false, q, |say| {
        format!(
            "half a sleeve and a gusset of {} give {} at the underarm; a quarter of the chest and 4 cm, {}, lets the arms lift",
            say(gusset),
            say(depth),
            say(wanted)
        )
    });
}
