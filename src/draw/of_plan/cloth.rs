//! The cloth of a plan: in pixels from either side and against the light, and cut open to scale.

use super::export::{Named, Options};
use crate::chain::keys::{self as id, ALL};
use crate::draw::picture::{self, ClothLook, Ground, Hand, Pixels, Press, Side, View, YarnLook};
use crate::draw::sheet::Sheet;
use crate::draw::sheets;
use crate::formulas::registry::Key;
use crate::outlook::Outcome;
use crate::trade::fibres::Plant;
use crate::units::show;
use crate::units::*;

/// Side of the picture at true scale, mm, and its dots an inch: to be held beside the real cloth.
pub const TRUE_SIDE: f64 = 50.0;
/// See [`TRUE_SIDE`].
pub const TRUE_DOTS: f64 = 300.0;

/// A side from which the cloth is shown, by its word.
struct Showing {
    name: &'static str,
    way: Way,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    Seen(Side),
    Light,
    TrueSize,
}

static SHOWINGS: &[Showing] = &[
    Showing { name: "cloth", way: Way::Seen(Side::Face) },
    Showing { name: "cloth-back", way: Way::Seen(Side::Back) },
    Showing { name: "cloth-light", way: Way::Light },
    Showing { name: "cloth-true", way: Way::TrueSize },
];

/// The picture of the cloth as PNG, `width` pixels wide: `cloth`, `cloth-back`, `cloth-light`, or `cloth-true`, which is 50 mm of cloth at
/// 300 dots an inch and has its own width.
///
/// # Errors
/// A sentence for the person: no such picture, a width that is none, a cloth that cannot be shown.
pub fn picture(outcome: &Outcome, name: &str, width: usize) -> Result<Vec<u8>, String> {
    let Some(showing) = SHOWINGS.iter().find(|showing| showing.name == name) else {
        let names: Vec<&str> = SHOWINGS.iter().map(|showing| showing.name).collect();
        return Err(format!("There is no picture `{name}`; there are {}.", names.join(", ")));
    };
    let look = look(outcome, State::Washed, Options::default().seed)?;
    seen(&look, showing.way, width, width * 3 / 4).map(|(pixels, pixel)| pixels.png(Press::Small, Some(pixel)))
}

/// The pictures of a cloth as files.
pub(super) fn pictures(outcome: &Outcome, options: &Options) -> Result<Vec<Named>, String> {
    let look = look(outcome, State::Washed, options.seed)?;
    // a page of A4 across between its margins
    let width = (190.0 / 25.4 * options.dpi).round() as usize;
    let file = |showing: &Showing| {
        let (pixels, pixel) = seen(&look, showing.way, width, width * 3 / 4)?;
        let bytes = pixels.png(Press::Small, Some(pixel));
        Ok(Named { file_name: format!("{}.png", showing.name), bytes })
    };
    SHOWINGS.iter().map(file).collect()
}

/// Ends that a picture shows across: enough to see the weave, few enough to see the yarn.
const ENDS: f64 = 28.0;

/// The pixels, and how many millimetres of cloth one of them is.
fn seen(look: &ClothLook, way: Way, width: usize, height: usize) -> Result<(Pixels, f64), String> {
    let mut view = View::of_ends(look, ENDS, width, height);
    view.ground = Ground::Table;
    let shown = match way {
        Way::Light => picture::against_the_light(look, &view).map(|window| window.pixels),
        Way::Seen(side) => picture::cloth(look, &View { side, ..view }),
        Way::TrueSize => {
            view = View::true_size(TRUE_SIDE, TRUE_DOTS);
            picture::cloth(look, &view)
        }
    };
    shown.map(|pixels| (pixels, view.pixel)).map_err(|unseen| format!("The cloth cannot be shown: {unseen}."))
}

/// When the cloth is seen.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum State {
    OffLoom,
    Washed,
}

/// The cloth as it looks.
pub(super) fn look(outcome: &Outcome, state: State, seed: u64) -> Result<ClothLook, String> {
    let value = |key: &Key<Length>| length(outcome, key);
    let apart = |key: &Key<PerLength>| {
        let sett = outcome.get(key).map_or(0.0, |sett| sett.get(&PER_CM));
        if sett > 0.0 { Ok(10.0 / sett) } else { Err(format!("This plan has no `{}`.", key.name)) }
    };
    let share = outcome.get(&id::CRIMP_SHARE).map_or(0.5, Q::to_si);
    let sum = value(&id::DIAMETER_SUM)?;
    let drawdown =
        outcome.brief.woven.draft.repeat().map_err(|fault| format!("The draft cannot be shown: {fault}."))?;
    let woven = &outcome.brief.woven;
    Ok(ClothLook {
        warp: yarn(outcome, "warp")?,
        weft: yarn(outcome, "weft")?,
        end_spacing: apart(if state == State::Washed { &id::SETT_FINISHED } else { &id::SETT_OFF_LOOM })?,
        pick_spacing: apart(if state == State::Washed { &id::PICKS_FINISHED } else { &id::PICKS_OFF_LOOM })?,
        warp_height: sum * share,
        weft_height: sum * (1.0 - share),
        drawdown,
        colours: woven.colours.iter().map(|colour| colour.rgb).collect(),
        warp_order: woven.warp_order.clone(),
        weft_order: woven.weft_order.clone(),
        straying: STRAYING,
        seed,
    })
}

/// How far hand-thrown threads stray from their places, of a spacing; a choice after looking at many.
const STRAYING: f64 = 0.06;

fn length(outcome: &Outcome, key: &Key<Length>) -> Result<f64, String> {
    outcome.get(key).map(|length| length.get(&MM)).ok_or_else(|| format!("This plan has no `{}`.", key.name))
}

/// One yarn as it looks. Hairs, unevenness and lustre by fibre are this program's choice after looking at many.
fn yarn(outcome: &Outcome, which: &str) -> Result<YarnLook, String> {
    let plan = &outcome.brief.plan;
    let (warp, weft) = (which == "warp", plan.is_given("yarn.weft.same_as"));
    let (diameter, twist, plies, ply_twist) = if warp {
        (&id::WARP_DIAMETER, &id::WARP_TWIST, &id::WARP_PLIES, &id::WARP_PLY_TWIST)
    } else {
        (&id::WEFT_DIAMETER, &id::WEFT_TWIST, &id::WEFT_PLIES, &id::WEFT_PLY_TWIST)
    };
    let path = if warp || weft { "yarn.warp.direction" } else { "yarn.weft.direction" };
    let hand = if plan.choice(path) == Some("S") { Hand::S } else { Hand::Z };
    let turns = |key| outcome.get(key).map_or(0.0, |twist: Q<PerLength>| twist.get(&PER_M));
    let mut look = YarnLook::cotton(length(outcome, diameter)?, turns(twist), hand);
    look.plies = outcome.get(plies).map_or(1.0, Q::to_si).clamp(1.0, 6.0) as u8;
    look.ply_twist = turns(ply_twist);
    match outcome.brief.given.choices.plant {
        Plant::Cotton => {}
        Plant::Wool => (look.hairs, look.hair_length, look.lustre) = (1.6, 1.6, 0.12),
        Plant::Flax => (look.hairs, look.hair_length, look.lustre) = (0.5, 1.0, 0.5),
    }
    Ok(look)
}

/// The sheet of pictures: off the loom and washed, against a window, and at true size.
pub(super) fn sheets(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let seed = Options::default().seed;
    let (off, washed) = (look(outcome, State::OffLoom, seed)?, look(outcome, State::Washed, seed)?);
    let name = format!("{}, {} weave", outcome.brief.fibre, outcome.brief.woven.name);
    let style = outcome.brief.style;
    let facts = facts(outcome);
    let seen = sheets::cloth::Seen { name: &name, off: Some(&off), washed: &washed, facts: &facts, style };
    Ok(vec![sheets::cloth::sheet(&seen).map_err(|unseen| format!("The cloth cannot be shown: {unseen}."))?])
}

/// The face of the washed cloth as a line drawing.
pub(super) fn ribbons(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let name = format!("{}, {} weave", outcome.brief.fibre, outcome.brief.woven.name);
    let look = look(outcome, State::Washed, Options::default().seed)?;
    Ok(vec![sheets::ribbons::sheet(&look, &name).map_err(|unseen| format!("The cloth cannot be shown: {unseen}."))?])
}

/// The cloth cut open, off the loom and washed.
pub(super) fn sections(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let mut out = Vec::new();
    for (state, name, words) in [
        (State::Washed, "section", "washed and pressed"),
        (State::OffLoom, "section-off-loom", "off the loom, not washed"),
    ] {
        let look = look(outcome, state, Options::default().seed)?;
        let cut = sheets::section::Cut { look: &look, state: words, style: outcome.brief.style };
        let mut sheet = sheets::section::sheet(&cut);
        sheet.name = name.into();
        out.push(sheet);
    }
    Ok(out)
}

/// Figures beside the pictures, with their ranges.
pub(super) fn facts(outcome: &Outcome) -> Vec<(String, String)> {
    let rows = [
        ("ends, washed", id::SETT_FINISHED.slot),
        ("picks, washed", id::PICKS_FINISHED.slot),
        ("mass", id::CLOTH_MASS.slot),
        ("thickness", id::THICKNESS.slot),
        ("holes between threads", id::OPEN_AREA.slot),
        ("cover factor, 28 touches", id::COVER_FACTOR.slot),
    ];
    let style = outcome.brief.style;
    let row = |(says, slot): (&str, u16)| {
        let unit = &ALL[slot as usize].unit;
        let value = show::quantity(outcome.numbers.si(slot)?, unit, style);
        let range = outcome.spread(slot).map_or(String::new(), |s| show::range(s.low, s.high, unit, style));
        Some((says.to_string(), if range.is_empty() { value } else { format!("{value} ({range})") }))
    };
    rows.into_iter().filter_map(row).collect()
}
