//! Whether the loom holds: bending with creep, bearing, twist, the ratchet, leaning of the frame, tipping, shelf and clamp,
//! reach. Each as a finding with its number, its limit and where the rule comes from.

use super::parts;
use super::sold::{Bar, Fixings, Shelf};
use super::{Layout, Loom, LoomWish, Section, Stands, Stiffening};
use crate::formulas::loom as f;
use crate::machine::Refusal;
use crate::machine::ratchet;
use crate::trade::stock;
use crate::units::{GPA, KG, MM, MPA, N, Q, show};
use std::f64::consts::PI;

/// One thing that must hold.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    pub what: &'static str,
    /// Marks concerned.
    pub parts: &'static str,
    pub value: f64,
    pub limit: f64,
    pub unit: &'static str,
    /// True where the value must not exceed the limit, false where it must reach it.
    pub at_most: bool,
    pub passes: bool,
    /// Rule and source.
    pub rule: String,
}

fn most(
    what: &'static str,
    parts: &'static str,
    (value, limit): (f64, f64),
    unit: &'static str,
    rule: impl Into<String>,
) -> Finding {
    Finding { what, parts, value, limit, unit, at_most: true, passes: value <= limit, rule: rule.into() }
}
fn least(
    what: &'static str,
    parts: &'static str,
    (value, limit): (f64, f64),
    unit: &'static str,
    rule: impl Into<String>,
) -> Finding {
    Finding { what, parts, value, limit, unit, at_most: false, passes: value >= limit, rule: rule.into() }
}

/// Push of a person who leans or beats hard, N; common practice, no source.
pub const PUSH: f64 = 60.0;
/// The frame may lean this much under it, mm; common practice, no source.
const LEAN: f64 = 4.0;
/// Bolts of a corner lie this far apart, mm.
const BOLTS_APART: f64 = 60.0;
/// Feet and clamps: friction of rubber on a floor or table (common practice, no source).
const GRIP: f64 = 0.5;
/// What a small screw clamp turned by hand presses with, N (common practice, no source).
const BY_HAND: f64 = 500.0;
/// What a shelf carries, N: a box of yarn and tools.
const SHELF_LOAD: f64 = 100.0;

/// Plywood the wheels are sawn from: 18 mm, or what is sold as three quarters of an inch.
const PLYWOOD: (f64, f64) = (18.0, 23.0 / 32.0 * 25.4);

/// Shear that breaks birch plywood, MPa (Handbook of Finnish Plywood, from memory).
const PLYWOOD_SHEAR: f64 = 9.5;
/// Shear allowed at a plywood tooth's root, MPa.
const TOOTH_SHEAR: f64 = PLYWOOD_SHEAR / 2.1;

/// The smallest wheel, from 7 mm between teeth up, whose teeth hold the full roll at its peak.
pub(super) fn wheel(w: &LoomWish, l: &Layout) -> ratchet::Wheel {
    let least = (f64::from(w.teeth) * 7.0 / PI).max(l.beam + 24.0).max(70.0).ceil();
    let free = w.fell_to_heddle.get(&MM) + w.heddle_to_back.get(&MM);
    let thick = w.system.ruler().of(PLYWOOD.0, PLYWOOD.1);
    let sized = |diameter| ratchet::Wheel { teeth: w.teeth, diameter, bore: l.journal, thick, pawls: w.pawls };
    let holds = |wheel: &ratchet::Wheel| ratchet::hold(wheel, w.peak.get(&N), l.roll, free, 6.0).shear <= TOOTH_SHEAR;
    if let Some(stated) = w.wheel {
        return sized(stated.get(&MM));
    }
    (0..80).map(|i| sized(least + 2.0 * f64::from(i))).find(holds).unwrap_or_else(|| sized(least))
}

/// Second moment and section modulus of the beam.
fn beam_section(section: Section, d: f64) -> (f64, f64) {
    let second = match section {
        Section::Round => (f::ROUND_SECOND_MOMENT.code)([d, 0.0]),
        Section::Square => (f::RECTANGLE_SECOND_MOMENT.code)([d, d]),
        Section::Tube { wall } => (f::ROUND_SECOND_MOMENT.code)([d, (d - 2.0 * wall.get(&MM)).max(0.0)]),
    };
    (second, (f::SECTION_MODULUS.code)([second, d]))
}

/// Bow of the beam under the mean warp and its stress at the peak, and what they may be.
fn beam_margins(w: &LoomWish, span: f64, d: f64) -> ((f64, f64), (f64, f64)) {
    let (second, modulus) = beam_section(w.section, d);
    let wide = w.width_in_reed.get(&MM);
    let bow = (f::BEAM_DEFLECTION.code)([w.tension.get(&N), span, wide, w.timber.elasticity().get(&GPA), second]);
    let stress = (f::BEAM_STRESS.code)([w.peak.get(&N), span, wide, modulus]);
    let allowed = (f::BOW_ALLOWED.code)([100.0 * w.strain, w.fell_to_heddle.get(&MM), w.heddle_to_back.get(&MM)]);
    ((bow, allowed), (stress, w.timber.allowable().get(&MPA)))
}

/// The loom laid out with the lightest bars that stay straight; with the heaviest where none does, and the finding says so.
pub(super) fn straight_bars(wish: &LoomWish, beam: f64) -> Result<Layout, Refusal> {
    let mut laid = Err(Refusal::new("loom", "no bar is sold"));
    for bar in Bar::of(wish.system) {
        laid = super::lay_out(wish, beam, bar);
        let Ok(layout) = &laid else { break };
        let ((bow, allowed), (stress, held)) = bar_margins(wish, layout);
        if bow <= allowed && stress <= held {
            break;
        }
    }
    laid
}

/// The thinnest rod on the shelf whose bow and stress pass.
pub(super) fn thinnest_beam(w: &LoomWish) -> Result<f64, Refusal> {
    let span = w.span.map_or_else(|| w.weaving_width.get(&MM) + 80.0, |s| s.get(&MM));
    let mut from = Q::new(20.0, &MM);
    while let Some(d) = stock::rod_at_least(w.system, from) {
        let ((bow, bow_allowed), (stress, stress_allowed)) = beam_margins(w, span, d.get(&MM));
        if bow <= bow_allowed && stress <= stress_allowed {
            return Ok(d.get(&MM));
        }
        from = d + Q::new(1.0, &MM);
    }
    Err(Refusal::new(
        "beam",
        format!(
            "no {} rod sold is stiff enough for {} over {}: a square beam, a steel tube, or less tension",
            w.timber.name,
            show::of(w.tension, &N, w.system.ruler().0),
            w.system.ruler().says(span)
        ),
    ))
}

/// Everything tried.
pub(super) fn findings(loom: &Loom) -> Vec<Finding> {
    let mut out = beam(loom);
    out.extend(bars(loom));
    out.extend(bearing(loom));
    out.extend(hold(loom));
    if loom.wish.stands == Stands::Floor {
        out.extend(frame(loom));
        out.extend(body(loom));
    } else {
        out.push(clamp(loom));
    }
    out
}

fn beam(loom: &Loom) -> Vec<Finding> {
    let (w, l) = (&loom.wish, &loom.layout);
    let (bow, stress) = beam_margins(w, l.span, l.beam);
    let crept = (bow.0 * w.timber.creep(), 2.0 * bow.1);
    let twist = (f::BEAM_TWIST.code)([w.tension.get(&N), l.roll, l.span, w.timber.elasticity().get(&GPA), l.beam]);
    vec![
        most(
            "bow of the beam under the warp",
            "B1, B2",
            bow,
            "mm",
            "half the warp's own stretch (practice); bow: Roark, table 8, partial uniform load",
        ),
        most(
            "bow after weeks under load",
            "B1, B2",
            crept,
            "mm",
            "first bow x 2 in wood (Wood Handbook ch. 5), against the whole stretch",
        ),
        most(
            "stress in the beam at the peak",
            "B1, B2",
            stress,
            "MPa",
            "Roark, table 8; 5 % point of clear wood over 2.1 (ASTM D2555, D245), halved for knots",
        ),
        most(
            "twist of the beam, held at one end",
            "B1, B2",
            (twist, 1.0),
            "deg",
            "round bar in torsion, G = E/16; one degree (practice)",
        ),
    ]
}

/// Bow of the bars under the mean warp and stress in their edge at the peak, and what they may be. The load 2 F sin(turn/2)
/// is taken apart into its level and its upright part, since a bar laid flat is stiffer one way.
fn bar_margins(w: &LoomWish, l: &Layout) -> ((f64, f64), (f64, f64)) {
    let wood = frame_wood(w);
    let (e, wide) = (wood.elasticity().get(&GPA), w.width_in_reed.get(&MM));
    let sharpest = sharpest_turn(l);
    let slope = libm::cos(sharpest * PI / 360.0);
    // Upright and level part of the load, with the section's stiffness that way and its depth.
    let ways = [
        (slope, (f::RECTANGLE_SECOND_MOMENT.code)([l.bar_deep, l.bar]), l.bar),
        ((1.0 - slope * slope).sqrt(), (f::RECTANGLE_SECOND_MOMENT.code)([l.bar, l.bar_deep]), l.bar_deep),
    ];
    let (mean, peak) =
        ((f::BAR_LOAD.code)([w.tension.get(&N), sharpest]), (f::BAR_LOAD.code)([w.peak.get(&N), sharpest]));
    let bows = ways.map(|(part, second, _)| (f::BEAM_DEFLECTION.code)([mean * part, l.span, wide, e, second]));
    let stresses = ways.map(|(part, second, depth)| {
        (f::BEAM_STRESS.code)([peak * part, l.span, wide, (f::SECTION_MODULUS.code)([second, depth])])
    });
    let allowed = (f::BOW_ALLOWED.code)([100.0 * w.strain, w.fell_to_heddle.get(&MM), w.heddle_to_back.get(&MM)]);
    ((libm::hypot(bows[0], bows[1]), allowed), (stresses[0] + stresses[1], wood.allowable().get(&MPA)))
}

/// The warp turns at a bar from level to the beam below it: the sharper of the two turns, degrees.
fn sharpest_turn(l: &Layout) -> f64 {
    let turned = |beam: (f64, f64), bar_y: f64| {
        let (dy, dz) = ((beam.0 - bar_y).abs(), l.warp - beam.1);
        180.0 - libm::atan2(dz, dy) * 180.0 / PI
    };
    turned(l.cloth_beam, l.breast).max(turned(l.warp_beam, l.back)).min(180.0)
}

fn bars(loom: &Loom) -> Vec<Finding> {
    let (bow, stress) = bar_margins(&loom.wish, &loom.layout);
    vec![
        most(
            "bow of breast and back bar",
            "B3, B4",
            bow,
            "mm",
            "load 2 F sin(turn/2), level and upright part each; half the warp's own stretch (practice)",
        ),
        most(
            "stress in the bars at the peak",
            "B3, B4",
            stress,
            "MPa",
            "Roark, table 8, both ways added; as for the beam",
        ),
        most(
            "level pull on each screw of a bar",
            "B3, B4 – A1",
            (bar_pull(loom), bar_screw(loom)),
            "N",
            "the warp turned by the bar, at its peak, on four screws; K D² (Wood Handbook eq. 8-13) over 1.6 (from memory)",
        ),
    ]
}

/// A metal beam still lies in a wooden frame: the weakest common softwood is counted.
fn frame_wood(w: &LoomWish) -> &'static crate::trade::timber::Timber {
    let t = w.timber;
    if t.metal { crate::trade::timber::Timber::find("pine").unwrap_or(t) } else { t }
}
fn frame_elasticity(loom: &Loom) -> f64 {
    frame_wood(&loom.wish).elasticity().get(&GPA)
}
fn frame_allowable(loom: &Loom) -> f64 {
    frame_wood(&loom.wish).allowable().get(&MPA)
}

/// Slip stiffness of a bolt or screw across its length, N/mm: ρ^1.5 d/23 with the mean density in kg/m³ (EN 1995-1-1, Table 7.1;
/// from memory). Bolts are taken as tight.
fn fastener(loom: &Loom, diameter: f64) -> f64 {
    let density = frame_wood(&loom.wish).density().get(&crate::units::KG_M3);
    density * density.sqrt() * diameter / 23.0
}

/// A corner of two bolts or screws, N·mm a radian.
fn corner(loom: &Loom, diameter: f64) -> f64 {
    2.0 * fastener(loom, diameter) * (BOLTS_APART / 2.0) * (BOLTS_APART / 2.0)
}

fn bearing(loom: &Loom) -> Vec<Finding> {
    let (w, l) = (&loom.wish, &loom.layout);
    let pressure = w.peak.get(&N) / 2.0 / (l.journal * l.rail_thick);
    let crush = frame_wood(&loom.wish).crush_across_mpa.unwrap_or(3.0) / 2.0;
    // Each rail is pressed by half the warp, whose line runs above its middle.
    let (push, arm) = (w.peak.get(&N) / 2.0, l.bar + l.rail_high / 2.0);
    let modulus = l.rail_thick * l.rail_high * l.rail_high / 6.0;
    let stress = push / (l.rail_thick * l.rail_high) + push * arm / modulus;
    let weak = (f::RECTANGLE_SECOND_MOMENT.code)([l.rail_high, l.rail_thick]);
    let buckling = (f::BUCKLING.code)([frame_elasticity(loom), weak, l.deep, 1.0]);
    vec![
        most(
            "pressure of the beam's end in the rail",
            "B1, B2 in A1",
            (pressure, crush),
            "MPa",
            "half the warp at its peak over journal x rail; half the proportional limit across the grain (Wood Handbook 5-3)",
        ),
        most(
            "stress in the side rail",
            "A1",
            (stress, frame_allowable(loom)),
            "MPa",
            "thrust and bending about its middle; as for the beam",
        ),
        least(
            "thrust at which the side rail buckles",
            "A1",
            (buckling, 4.0 * push),
            "N",
            "Euler, ends hinged; four times the thrust",
        ),
    ]
}

fn hold(loom: &Loom) -> Vec<Finding> {
    let (w, l) = (&loom.wish, &loom.layout);
    let free = w.fell_to_heddle.get(&MM) + w.heddle_to_back.get(&MM);
    let breaks = show::of(Q::new(PLYWOOD_SHEAR, &MPA), &MPA, w.system.ruler().0);
    let bare = ratchet::hold(&loom.wheel, w.tension.get(&N), l.beam, free, 6.0);
    let full = ratchet::hold(&loom.wheel, w.peak.get(&N), l.roll, free, 6.0);
    vec![
        most(
            "one click of the ratchet stretches the warp by",
            "F1, F2",
            (bare.step_strain, 1.5 * 100.0 * w.strain),
            "%",
            "circumference over teeth x pawls; one and a half times the mean stretch (practice)",
        ),
        most(
            "shear at a tooth's root",
            "F1",
            (full.shear, TOOTH_SHEAR),
            "MPa",
            format!(
                "full roll, peak pull; birch plywood's shear {breaks} (Handbook of Finnish Plywood, from memory) over 2.1"
            ),
        ),
        most(
            "pressure of the pawl's pivot",
            "F2",
            (full.pivot, 8.0),
            "MPa",
            "full roll, peak pull; bolt in plywood (from memory)",
        ),
    ]
}

/// The warp pulls each bar level towards the other; four screws hold it, N.
fn bar_pull(loom: &Loom) -> f64 {
    loom.wish.peak.get(&N) * (1.0 - libm::cos(sharpest_turn(&loom.layout) * PI / 180.0)) / 4.0
}

/// What a screw of a bar may carry across its length, N: the proportional limit over 1.6 (from memory).
fn bar_screw(loom: &Loom) -> f64 {
    let k = frame_wood(&loom.wish).screw_across().get(&MPA);
    (f::SCREW_ACROSS.code)([k, parts::bar_screw(loom).diameter]) / 1.6
}

/// Pull along each screw of a cross rail when somebody leans on the frame: the corner's moment over the screws' distance, N.
fn screw_pull(loom: &Loom) -> f64 {
    let l = &loom.layout;
    PUSH * (l.rail_top() - l.foot) / 4.0 / BOLTS_APART
}

/// Of what a screw holds in side grain it holds so much in end grain (Wood Handbook ch. 8, from memory).
const END_GRAIN: f64 = 0.75;

/// What a screw of a cross rail, in end grain behind the rail it passes, may carry along its length, N.
fn screw_holds(loom: &Loom) -> f64 {
    let (screw, gravity) = (Fixings::of(loom.wish.system).screw, frame_wood(&loom.wish).specific_gravity);
    (f::SCREW_ALONG.code)([gravity, screw.diameter, screw.long - loom.layout.rail_thick]) * END_GRAIN
}

fn frame(loom: &Loom) -> Vec<Finding> {
    let (l, style) = (&loom.layout, loom.wish.system.ruler().0);
    let (push, person) = (show::of(Q::new(PUSH, &N), &N, style), show::of(Q::new(90.0, &KG), &KG, style));
    let e = frame_elasticity(loom);
    let s = Shelf::of(loom.wish.system);
    let weak = |t: f64, wide: f64| wide * t * t * t / 12.0;
    let leg_load = 900.0;
    let buckling = (f::BUCKLING.code)([e, weak(l.leg_thick, l.leg_wide), l.rail_top(), 1.0]);
    let mut out = vec![
        most(
            stiff_words(loom.wish.stiffening),
            "A2, A4, A5, A6",
            (lean_sideways(loom, loom.wish.stiffening), LEAN),
            "mm",
            format!("{push} at the warp; portal frame on hinged feet, corners by EN 1995-1-1 Table 7.1 (from memory)"),
        ),
        most(
            "lean to and fro under a beat",
            "A1, A2, A3",
            (lean_along(loom), LEAN),
            "mm",
            format!("{push} at the warp; portal of legs, side rail and foot rail"),
        ),
        most(
            "pull on each screw of a cross rail",
            "A4, A5 – A1, A3",
            (screw_pull(loom), screw_holds(loom)),
            "N",
            format!(
                "{push} at the warp, no brace and no glue counted; 19.65 G² D L (2850 lb an inch), a fifth of what tears it out (Wood Handbook eq. 8-10); three quarters in end grain (from memory)"
            ),
        ),
        least(
            "load at which a leg buckles",
            "A2",
            (buckling, 2.0 * leg_load),
            "N",
            format!("Euler, weak way, ends hinged; a person of {person} leaning on one leg, twice over"),
        ),
        least(
            "pull at the warp that tips it",
            "all",
            (tip(loom), PUSH),
            "N",
            "own mass x half the depth over the height; a box of books on the cross rails makes it more",
        ),
    ];
    if loom.wish.stiffening == Stiffening::Shelf {
        let second = (f::RECTANGLE_SECOND_MOMENT.code)([s.rail.wide, s.rail.thick]);
        let sag =
            (f::BEAM_DEFLECTION.code)([SHELF_LOAD, l.span, l.span * 0.8, e, second]) * frame_wood(&loom.wish).creep();
        out.push(most(
            "sag of the shelf under a box of yarn and tools, after weeks",
            "A7",
            (sag, l.span / 200.0),
            "mm",
            format!(
                "Roark, table 8, under {}, x 2 for creep; span over 200 (practice)",
                show::of(Q::new(SHELF_LOAD, &N), &N, style)
            ),
        ));
    }
    out
}

fn stiff_words(stiffening: Stiffening) -> &'static str {
    match stiffening {
        Stiffening::Bare => "lean sideways, no brace",
        Stiffening::Shelf => "lean sideways, shelf",
        Stiffening::Brace => "lean sideways, crossed braces",
    }
}

/// Lean at the warp under [`PUSH`] from the side, mm; feet hinged. A storey of four legs bends and its corners turn. A shelf at
/// half height makes two low storeys of the high one; crossed braces carry the push by their stretch and their screws' slip.
pub fn lean_sideways(loom: &Loom, stiffening: Stiffening) -> f64 {
    let (l, e) = (&loom.layout, frame_elasticity(loom) * 1000.0);
    let s = Shelf::of(loom.wish.system);
    let leg = l.leg_wide * l.leg_thick * l.leg_thick * l.leg_thick / 12.0;
    let cross = s.cross.thick * s.cross.wide * s.cross.wide * s.cross.wide / 12.0;
    let (low, high) = (l.foot, l.rail_top() - l.foot);
    let storey = |h: f64| {
        let bend = PUSH * h * h / (12.0 * e) * (h / leg + l.span / (2.0 * cross));
        // Four screwed corners turn under the moment of the push over the storey.
        bend + PUSH * h * h / (4.0 * corner(loom, Fixings::of(loom.wish.system).screw.diameter))
    };
    match stiffening {
        Stiffening::Bare => storey(low) + storey(high),
        Stiffening::Shelf => storey(low) + 2.0 * storey(high / 2.0),
        Stiffening::Brace => {
            let long = parts::brace_length(l);
            let along = l.span / long;
            // The one diagonal that is pulled; a screw at each end.
            let pull = PUSH / along;
            let give = pull * long / (e * s.lath.thick * s.lath.wide)
                + 2.0 * pull / fastener(loom, Fixings::of(loom.wish.system).screw.diameter);
            storey(low) + give / along
        }
    }
}

/// Lean along the loom under [`PUSH`], mm: legs the strong way, deep side rails, eight bolted corners.
fn lean_along(loom: &Loom) -> f64 {
    let (l, e) = (&loom.layout, frame_elasticity(loom) * 1000.0);
    let leg = l.leg_thick * l.leg_wide * l.leg_wide * l.leg_wide / 12.0;
    let rail = l.rail_thick * l.rail_high * l.rail_high * l.rail_high / 12.0;
    let between = l.legs[1] - l.legs[0];
    let h = l.rail_top();
    PUSH * h * h / (12.0 * e) * (h / leg + between / (2.0 * rail))
        + PUSH * h * h / (8.0 * corner(loom, Fixings::of(loom.wish.system).bolt.diameter))
}

/// Level pull at the warp that lifts the far legs, N.
fn tip(loom: &Loom) -> f64 {
    let l = &loom.layout;
    let half = (l.legs[1] - l.legs[0] + l.leg_wide) / 2.0;
    parts::mass(loom).get(&KG) * 9.806_65 * half / l.warp
}

fn body(loom: &Loom) -> Vec<Finding> {
    let (l, who) = (&loom.layout, &loom.wish.sitter);
    let seat = who.seat_for(l.warp);
    let knees = l.warp - l.bar - seat;
    let to_heddle = l.heddles[1] + 60.0;
    // Shoulder some 350 mm above the warp, 180 mm to the side, 250 mm behind the breast bar.
    let side = (loom.wish.weaving_width.get(&MM) / 2.0 - 180.0).max(0.0);
    let forward = l.fell + 150.0;
    let edge = (side * side + forward * forward + 350.0 * 350.0).sqrt();
    vec![
        least(
            "room for the thighs under the breast bar",
            "B3",
            (knees, who.thigh),
            "mm",
            "thigh clearance of the 95th percentile man, MIL-STD-1472G App. B in NUREG-0700 Table 11.4",
        ),
        most(
            "reach to lift the heddle",
            "D1",
            (to_heddle, who.forward()),
            "mm",
            "functional reach of the 5th percentile woman, same table, less her depth",
        ),
        most(
            "reach from the shoulder to the cloth's edge",
            "G1",
            (edge, who.reach),
            "mm",
            "same table; shoulder placed from memory",
        ),
    ]
}

/// Force each of two clamps must press with on a table, against what a hand-tightened one gives.
fn clamp(loom: &Loom) -> Finding {
    let hand = show::of(Q::new(BY_HAND, &N), &N, loom.wish.system.ruler().0);
    most(
        "press of each of two table clamps",
        "A1",
        (PUSH / (2.0 * 2.0 * GRIP), BY_HAND),
        "N",
        format!(
            "push over friction at both faces; a small screw clamp turned by hand gives {hand} and more (practice)"
        ),
    )
}

/// Leans of the frame without and with each stiffening, for the sheet.
pub fn leans(loom: &Loom) -> [(Stiffening, f64); 3] {
    [Stiffening::Bare, Stiffening::Shelf, Stiffening::Brace].map(|s| (s, lean_sideways(loom, s)))
}

/// Lines of the layout that a sheet writes beside the side view.
pub fn axis_drop(l: &Layout) -> f64 {
    l.warp - l.cloth_beam.1
}
