//! The shaped top: drop shoulder, curved neck, armhole and sleeve cap, straight sides. Millimetres. The sleeve is solved for
//! the armhole, never trimmed to it afterwards.

use super::super::curve;
use super::super::fault::Fault;
use super::super::figure::Figure;
use super::super::make::{Blank, Making, both_halves, mm};
use super::super::piece::{Garment, Girths, MarkKind};
use super::super::rules;
use super::super::stripes::Tied;
use super::super::wish::{SleeveWish, Wish};
use super::neck::{self, Neck};
use super::sleeve::{self, Sleeve};
use super::{Torso, fits, pictures, print, torso};
use crate::trade::body::Part;
use kurbo::{BezPath, Point};

/// Measurements a shaped top is drafted from.
const FROM: [Part; 6] =
    [Part::Chest, Part::Head, Part::NeckBase, Part::ShoulderBreadth, Part::UpperArm, Part::BackWaist];

/// The sleeve below its cap.
#[derive(Clone, Copy, Debug)]
pub(super) struct Below {
    /// Middle of the cap to the middle of the hem.
    pub long: f64,
    /// Round the hem.
    pub cuff: f64,
    /// Lean of the underarm seams: run for one of fall.
    pub lean: f64,
    /// Reaches the hand.
    pub to_hand: bool,
}

/// Drafts it.
pub(in super::super) fn draft(wish: &Wish) -> Result<Garment, Vec<Fault>> {
    let figure = Figure::of(&wish.body)?;
    let mut making = Making::new(wish);
    making.reasons.extend(figure.stand_ins(&FROM, making.say));
    let Some((torso, sleeve, below, neck)) = settle(&mut making, &figure) else { return Err(making.faults) };
    let pieces = cut(&mut making, &torso, &sleeve, &below, &neck);
    making.opening = Some(neck.opening());
    making.girths = Some(Girths {
        chest: 4.0 * torso.quarter,
        hem: 4.0 * torso.quarter,
        sleeve: sleeve.girth,
        cuff: below.cuff,
        length: torso.length,
        armhole_depth: sleeve.underarm,
    });
    fits::shaped(&mut making, &figure, &torso, &sleeve, &below, &neck);
    pictures::shaped(&mut making, pieces, &neck);
    making.finish()
}

fn settle(making: &mut Making, figure: &Figure) -> Option<(Torso, Sleeve, Below, Neck)> {
    let mut torso = torso(making, figure, true)?;
    // The fall of the shoulder seam depends on where the neck ends, and a boat neck on where the shoulder ends.
    let underarm = rules::scye_depth(figure.get(Part::Chest)) + rules::UNDERARM_DROP;
    let neck = neck::decide(making, figure, &torso, underarm)?;
    torso.tip.y = torso.slope * (torso.tip.x - neck.half);
    let ease = mm(making.wish.ease.upper_arm).unwrap_or(rules::ARM_EASE);
    let girth = figure.get(Part::UpperArm) + ease;
    let (long, to_hand, cuff) = reach(making, figure, &torso, girth)?;
    let lowest = torso.hem - 100.0;
    let lean_guess = (0.5 * (girth - cuff)).max(0.0) / (long - 0.3 * underarm).max(60.0);
    let solved = (underarm < lowest).then(|| sleeve::solve(&torso, underarm, lowest, girth, lean_guess)).flatten();
    let Some(sleeve) = solved else {
        let text = format!(
            "an upper arm of {:.1} cm with {:.1} cm of ease finds no armhole on a top {:.1} cm long: make it longer or the \
             arm's ease less",
            figure.get(Part::UpperArm) / 10.0,
            ease / 10.0,
            torso.length / 10.0
        );
        making.fault("no-armhole", &["garment.length", "garment.ease.upper_arm", "garment.body.upper_arm"], text);
        return None;
    };
    let below = hang(making, &sleeve, long, cuff, to_hand)?;
    said(making, underarm, girth, &sleeve);
    Some((torso, sleeve, below, neck))
}

/// Length of the sleeve from the end of the shoulder seam, whether it reaches the hand, and its width at the hem.
fn reach(making: &mut Making, figure: &Figure, torso: &Torso, girth: f64) -> Option<(f64, bool, f64)> {
    let arm = figure.get(Part::ArmLength);
    let whole = match making.wish.sleeve {
        SleeveWish::Short => rules::SHORT_SLEEVE * arm,
        SleeveWish::Long => arm,
        SleeveWish::At(length) => mm(Some(length))?,
    };
    if !(60.0..=1.15 * arm).contains(&whole) {
        let text = format!(
            "a sleeve of {:.1} cm from the shoulder point cannot be drafted for this arm: 6 to {:.0} cm can",
            whole / 10.0,
            0.115 * arm
        );
        making.fault("bad-sleeve", &["garment.sleeve.length", "garment.body.arm_length"], text);
        return None;
    }
    // Above the elbow the hem follows the upper arm; from there it narrows to the hand.
    let upper = (figure.get(Part::UpperArm) + rules::ARM_EASE_LEAST - 10.0).max(girth - 30.0).min(girth);
    let hand = (figure.get(Part::Hand) + rules::HAND_EASE + 20.0).min(upper);
    let share = ((whole / arm - 0.5) / 0.4).clamp(0.0, 1.0);
    let cuff = mm(making.wish.cuff).unwrap_or(upper + share * (hand - upper));
    if !(80.0..=girth).contains(&cuff) {
        let text = format!(
            "a sleeve {:.1} cm round at its edge does not go with one {:.1} cm round at the top: 8 cm to that",
            cuff / 10.0,
            girth / 10.0
        );
        making.fault("bad-sleeve", &["garment.sleeve.opening", "garment.ease.upper_arm"], text);
        return None;
    }
    let dropped = (torso.tip.x - torso.shoulder) * (1.0 + torso.slope * torso.slope).sqrt();
    making.because(
        "garment.sleeve.length",
        format!(
            "sleeve {} from the shoulder point, of which the dropped shoulder is {}",
            making.say.length(whole),
            making.say.length(dropped)
        ),
    );
    Some((whole - dropped, share >= 1.0, cuff))
}

/// The part below the cap; a sleeve too short for its cap is let out.
fn hang(making: &mut Making, sleeve: &Sleeve, long: f64, cuff: f64, to_hand: bool) -> Option<Below> {
    let least = sleeve.cap + 45.0;
    let long = if long < least {
        let text = format!(
            "the sleeve is let out by {}: its cap alone is {} high",
            making.say.length(least - long),
            making.say.length(sleeve.cap)
        );
        making.because("garment.sleeve.length", text);
        least
    } else {
        long
    };
    let lean = 0.5 * (sleeve.girth - cuff).max(0.0) / (long - sleeve.cap);
    Some(Below { long, cuff: cuff.min(sleeve.girth), lean, to_hand })
}

fn said(making: &mut Making, underarm: f64, girth: f64, sleeve: &Sleeve) {
    let say = making.say;
    making.says(
        "bodice block of a published drafting lesson: scye depth = chest/8 + 2 1/2 in; lowered for a loose top",
        "garment.ease.upper_arm",
        format!("underarm {} below the side neck points", say.length(sleeve.underarm)),
    );
    if sleeve.underarm > underarm + 0.5 {
        let text = format!(
            "underarm lowered by {} so that the sleeve goes round the arm",
            say.length(sleeve.underarm - underarm)
        );
        making.because("garment.ease.upper_arm", text);
    }
    if sleeve.girth > girth + 0.5 {
        let text = format!("sleeve {} wider than asked, to fill the armhole", say.length(sleeve.girth - girth));
        making.because("garment.ease.upper_arm", text);
    }
}

/// Front and sleeve on the bench.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pieces {
    pub front: usize,
    pub sleeve: usize,
}

fn cut(making: &mut Making, torso: &Torso, sleeve: &Sleeve, below: &Below, neck: &Neck) -> Pieces {
    let allowance = making.allowance();
    let hem = making.hem_depth(rules::HEM);
    let print_front = print(making, "front", neck.front, neck.slit);
    let print_back = print(making, "back", neck.back, 0.0);
    let body = |name: &str, curve: BezPath, armhole: &BezPath, depth: f64, double: bool| {
        let edges = both_halves(panel(torso, curve, armhole, sleeve.underarm));
        let middle = curve::straight(Point::new(0.0, depth), Point::new(0.0, torso.hem));
        let up = 0.4 * curve::length(armhole);
        let right = curve::length(armhole) - up;
        Blank { edges, ..Blank::of(name, 1, Vec::new()) }
            .mark(MarkKind::Centre, middle, format!("centre {name}"))
            .notch("armhole_right", right, double)
            .notch("armhole_left", up, double)
            .notch("neck", 0.5 * 2.0 * neck_half(neck, double), false)
            .notch("hem", torso.quarter, false)
            .notch("side_right", 0.5 * (torso.hem - sleeve.underarm), false)
            .notch("side_left", 0.5 * (torso.hem - sleeve.underarm), false)
    };
    let mut front = body("front", neck.front_curve(), &sleeve.armhole_front, neck.front, false);
    if let Some(line) = neck.slit_line() {
        front = front.mark(MarkKind::Slit, line, "slit: cut after the facing is sewn");
    }
    front.print = print_front;
    let mut back = body("back", neck.back_curve(), &sleeve.armhole_back, neck.back, true);
    back.print = print_back;
    let (front, back) = (making.add(front), making.add(back));
    let arm = making.add(sleeve_blank(sleeve, below));
    // stripes round the sleeve meet those of the front at its notch, as a good shirt's do
    let notch = |piece: usize, edge: &str| {
        let piece = &making.pieces[piece];
        let at = piece.edge(edge)?;
        let notch = piece.notches.iter().find(|notch| notch.edge == at && notch.along > 0.0)?;
        Some(piece.edges[at].at(notch.along).0)
    };
    if let (Some(cap), Some(armhole)) = (notch(arm, "cap_front"), notch(front, "armhole_right")) {
        making.tied.push(Tied { piece: arm, to: front, by: cap - armhole, both: false });
    }
    making.sew("shoulder", allowance, &[(front, "shoulder_right")], &[(back, "shoulder_right")], 2);
    neck::face(making, neck, torso, front, back, allowance);
    making.sew("front armhole", allowance, &[(front, "armhole_right")], &[(arm, "cap_front")], 2);
    making.sew("back armhole", allowance, &[(back, "armhole_right")], &[(arm, "cap_back")], 2);
    making.sew("side", allowance, &[(front, "side_right")], &[(back, "side_right")], 2);
    making.sew("underarm", allowance, &[(arm, "underarm_front")], &[(arm, "underarm_back")], 2);
    making.hem("hem", hem, &[(front, "hem"), (back, "hem")], 1);
    making.hem("sleeve hem", hem, &[(arm, "hem")], 2);
    Pieces { front, sleeve: arm }
}

fn neck_half(neck: &Neck, back: bool) -> f64 {
    curve::length(&if back { neck.back_curve() } else { neck.front_curve() })
}

/// The right half of front or back.
fn panel(torso: &Torso, neck: BezPath, armhole: &BezPath, underarm: f64) -> Vec<(&'static str, BezPath)> {
    let (side, foot) = (Point::new(torso.quarter, underarm), Point::new(torso.quarter, torso.hem));
    let shoulder = curve::straight(curve::end(&neck), torso.tip);
    vec![
        ("neck", neck),
        ("shoulder", shoulder),
        ("armhole", armhole.clone()),
        ("side", curve::straight(side, foot)),
        ("hem", curve::straight(foot, Point::new(0.0, torso.hem))),
    ]
}

fn sleeve_blank(sleeve: &Sleeve, below: &Below) -> Blank {
    let (front, back) = (curve::end(&sleeve.cap_front), curve::start(&sleeve.cap_back));
    let narrower = below.lean * (below.long - sleeve.cap);
    // Both seams drop alike, so that they are equally long though the back half is a little wider. The drop is 0.55 of the
    // half width times the lean, and the lean falls as the seam grows by the drop: a quadratic.
    let (high, half) = (below.long - sleeve.cap, 0.5 * sleeve.girth - narrower);
    let drop = 0.5 * ((high * high + 4.0 * 0.55 * half * narrower).sqrt() - high);
    let lean = narrower / (high + drop);
    let right = sleeve::half_hem(front.x - narrower, below.long, lean, drop);
    let left = curve::mirrored(&sleeve::half_hem(-back.x - narrower, below.long, lean, drop));
    let hem = curve::chained([&right, &left]);
    let edges = vec![
        ("cap_front", sleeve.cap_front.clone()),
        ("underarm_front", curve::straight(front, curve::start(&hem))),
        ("hem", hem.clone()),
        ("underarm_back", curve::straight(curve::end(&hem), back)),
        ("cap_back", sleeve.cap_back.clone()),
    ];
    let (long_front, long_back) = (curve::length(&sleeve.cap_front), curve::length(&sleeve.cap_back));
    let middle = curve::straight(Point::ZERO, Point::new(0.0, below.long));
    Blank::of("sleeve", 2, edges)
        .paired()
        .mark(MarkKind::Centre, middle, "middle, to the shoulder seam")
        .notch("cap_front", 0.0, false)
        .notch("cap_front", long_front - 0.4 * long_front, false)
        .notch("cap_back", 0.4 * long_back, true)
}
