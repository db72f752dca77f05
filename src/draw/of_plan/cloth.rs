//! The cloth of a plan in pixels, from either side and against the light, and its draft as a WIF.

use super::export::{Named, Options};
use crate::chain::keys as id;
use crate::draw::picture::{self, ClothLook, Ground, Hand, Pixels, Press, Side, View, YarnLook};
use crate::draw::sheet::{Anchor, Draw, Item, Rect, Sheet, Type};
use crate::draw::table::{Align, Column, Table};
use crate::draw::text;
use crate::draw::title::{self, MARGIN, Paper};
use crate::formulas::registry::Key;
use crate::outlook::Outcome;
use crate::trade::fibres::Plant;
use crate::units::show;
use crate::units::*;
use crate::weave::colour::NATURAL;
use crate::weave::wif;
use crate::weave::{Colour, ColourOrder};
use std::sync::Arc;

/// Side of the picture at true scale, mm, and its dots an inch: to be held beside the real cloth.
pub const TRUE_SIDE: f64 = 40.0;
/// See [`TRUE_SIDE`].
pub const TRUE_DOTS: f64 = 300.0;

/// A side from which the cloth is shown: its word, what the sheet says below it.
struct Showing {
    name: &'static str,
    words: &'static str,
    way: Way,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    Seen(Side),
    Light,
    TrueSize,
}

static SHOWINGS: &[Showing] = &[
    Showing { name: "cloth", words: "the front", way: Way::Seen(Side::Face) },
    Showing { name: "cloth-back", words: "the back", way: Way::Seen(Side::Back) },
    Showing { name: "cloth-light", words: "held up to a window", way: Way::Light },
    Showing { name: "cloth-true", words: "at its true size on paper", way: Way::TrueSize },
];

/// The picture of the cloth as PNG, `width` pixels wide: `cloth`, `cloth-back`, `cloth-light`, or `cloth-true`, which is 40 mm of cloth at
/// 300 dots an inch and has its own width.
///
/// # Errors
/// A sentence for the person: no such picture, a width that is none, a cloth that cannot be shown.
pub fn picture(outcome: &Outcome, name: &str, width: usize) -> Result<Vec<u8>, String> {
    let Some(showing) = SHOWINGS.iter().find(|showing| showing.name == name) else {
        let names: Vec<&str> = SHOWINGS.iter().map(|showing| showing.name).collect();
        return Err(format!("There is no picture `{name}`; there are {}.", names.join(", ")));
    };
    let look = look(outcome, Options::default().seed)?;
    seen(&look, showing.way, width, width * 3 / 4).map(|(pixels, pixel)| pixels.png(Press::Small, Some(pixel)))
}

/// The three pictures of a cloth as files.
pub(super) fn pictures(outcome: &Outcome, options: &Options) -> Result<Vec<Named>, String> {
    let look = look(outcome, options.seed)?;
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

/// The finished cloth as it looks.
pub(super) fn look(outcome: &Outcome, seed: u64) -> Result<ClothLook, String> {
    let value = |key: &Key<Length>| length(outcome, key);
    let apart = |key: &Key<PerLength>| {
        let sett = outcome.get(key).map_or(0.0, |sett| sett.get(&PER_CM));
        if sett > 0.0 { Ok(10.0 / sett) } else { Err(format!("This plan has no `{}`.", key.name)) }
    };
    let share = outcome.get(&id::CRIMP_SHARE).map_or(0.5, Q::to_si);
    let sum = value(&id::DIAMETER_SUM)?;
    let drawdown =
        outcome.brief.woven.draft.repeat().map_err(|fault| format!("The draft cannot be shown: {fault}."))?;
    let (colours, warp_order, weft_order) = orders(outcome)?;
    Ok(ClothLook {
        warp: yarn(outcome, "warp")?,
        weft: yarn(outcome, "weft")?,
        end_spacing: apart(&id::SETT_FINISHED)?,
        pick_spacing: apart(&id::PICKS_FINISHED)?,
        warp_height: sum * share,
        weft_height: sum * (1.0 - share),
        drawdown,
        colours: colours.iter().map(|colour| colour.rgb).collect(),
        warp_order,
        weft_order,
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

/// Colours of the threads in order; natural where the plan names none.
fn orders(outcome: &Outcome) -> Result<(Vec<Colour>, ColourOrder, ColourOrder), String> {
    let mut colours = vec![Colour { name: "natural".into(), rgb: NATURAL }];
    let mut order = |path: &str| match outcome.brief.plan.text(path) {
        Some(text) => ColourOrder::parse(text, &mut colours).map_err(|fault| format!("`{path}`: {fault}.")),
        None => Ok(ColourOrder::plain(0)),
    };
    let (warp, weft) = (order("cloth.warp_colours")?, order("cloth.weft_colours")?);
    Ok((colours, warp, weft))
}

/// The draft with its colours as a WIF.
pub(super) fn wif(outcome: &Outcome) -> Result<Vec<u8>, String> {
    let (colours, warp, weft) = orders(outcome)?;
    Ok(wif::write(&wif::Wif::of_draft(&outcome.brief.woven.draft, &colours, &warp, &weft)).into_bytes())
}

/// Pixels across a picture on the sheet.
const ON_SHEET: usize = 1000;

/// The sheet: front, back and window, and what the numbers say of the cloth.
pub(super) fn sheets(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let look = look(outcome, Options::default().seed)?;
    let describe =
        "The washed cloth drawn from the plan's yarn and sett, from the front, the back and against the light.";
    let mut sheet = title::page(Paper::A4, "cloth", "The cloth before it is woven", describe);
    let lead = "Drawn from the yarn, the sett and the weave of the plan, washed and pressed. Print the small picture at full size \
                and hold it beside a sample.";
    let top = title::head(&mut sheet, lead);
    let wide = 190.0;
    let front = Rect::new(MARGIN, top, MARGIN + wide, top + wide * 0.58);
    shown(&mut sheet, &look, &SHOWINGS[0], front, (1500, 870))?;
    let (half, y) = (92.5, front.y1 + 10.0);
    for (at, showing) in SHOWINGS[1..3].iter().enumerate() {
        let x = MARGIN + at as f64 * (wide - half);
        let place = Rect::new(x, y, x + half, y + half * 0.58);
        shown(&mut sheet, &look, showing, place, (ON_SHEET, ON_SHEET * 58 / 100))?;
    }
    let y = y + half * 0.58 + 10.0;
    let small = Rect::new(MARGIN, y, MARGIN + TRUE_SIDE, y + TRUE_SIDE);
    shown(&mut sheet, &look, &SHOWINGS[3], small, (1, 1))?;
    numbers(outcome, &mut sheet, (MARGIN + TRUE_SIDE + 10.0, y));
    title::foot(&mut sheet, "The yarn's chance thick places are drawn, not foretold.");
    Ok(vec![sheet])
}

fn shown(sheet: &mut Sheet, look: &ClothLook, showing: &Showing, at: Rect, size: (usize, usize)) -> Result<(), String> {
    let (pixels, pixel) = seen(look, showing.way, size.0, size.1)?;
    let png = Arc::new(pixels.png(Press::Small, Some(pixel)));
    let describe = format!("The cloth, {}", showing.words);
    sheet.items.push(Item::Picture { at, png, describe });
    let across = pixel * pixels.width as f64;
    let words = match showing.way {
        Way::TrueSize => showing.words.to_string(),
        _ => format!("{}, {across:.0} mm across", showing.words),
    };
    sheet.words(Type::Note, Anchor::Start, (at.x0, text::base(Type::Note, at.y1 + 1.0)), words);
    Ok(())
}

fn numbers(outcome: &Outcome, sheet: &mut Sheet, at: (f64, f64)) {
    let mut table = Table::new(vec![
        Column::new("of the washed cloth", 68.0, Align::Start),
        Column::new("middle", 34.0, Align::Start),
        Column::new("8 makers in 10", 38.0, Align::Start),
    ]);
    let rows = [
        ("ends a width", id::SETT_FINISHED.slot),
        ("picks a length", id::PICKS_FINISHED.slot),
        ("mass", id::CLOTH_MASS.slot),
        ("thickness", id::THICKNESS.slot),
        ("holes between the threads", id::OPEN_AREA.slot),
        ("cover factor, 28 is touching", id::COVER_FACTOR.slot),
    ];
    let style = outcome.brief.style;
    for (says, slot) in rows {
        let Some(si) = outcome.numbers.si(slot) else { continue };
        let unit = &crate::chain::keys::ALL[slot as usize].unit;
        let range = outcome.spreads[slot as usize].map_or(String::new(), |s| show::range(s.low, s.high, unit, style));
        table.row([says.to_string(), show::quantity(si, unit, style), range]);
    }
    table.draw(sheet, at);
}
