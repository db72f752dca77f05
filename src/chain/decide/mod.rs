//! Decide: from a plan to numbers, once, at the middle of every doubt. Pieces are drafted, the lay is solved into a table, the weave is
//! counted, the season is summed, and every `auto` becomes a number. Trials and forecasts start from here and never come back.

pub mod article;
pub mod cloth;
pub mod fibre;
pub mod inputs;
pub mod machines;
pub mod print;
pub mod season;
pub mod stripes;
mod wish;

use super::assumed::Assumption;
use super::given::Given;
use super::hardware::Parts;
use super::keys as id;
use super::lay::Table;
use super::settle::{Decision, Open, Unsettled};
use super::wishes::{Width, Wishes};
use crate::diag::{Diagnostic, any_error};
use crate::nest::Kept;
use crate::plan::Plan;
use crate::trade::fibres;
use crate::units::show::Style;
use crate::units::*;
use article::{Article, Effort};
use inputs::{How, Input, Inputs};
use season::Day;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A decided plan.
#[derive(Clone)]
pub struct Brief {
    /// What the maker said: words and files that drawings show and no number of the chain stands for.
    pub plan: Arc<Plan>,
    pub title: String,
    pub style: Style,
    /// Fibre as the plan names it.
    pub fibre: &'static str,
    pub wishes: Wishes,
    /// All numbers the chain starts from, decisions made.
    pub given: Given,
    pub decisions: Vec<Decision>,
    /// Where each input came from, by slot.
    pub inputs: BTreeMap<u16, Input>,
    pub article: Article,
    pub woven: cloth::Woven,
    pub days: Vec<Day>,
    /// What was noticed on the way and is no error.
    pub noticed: Vec<Diagnostic>,
}

impl Brief {
    /// Inputs that trials shake: doubted, and not decided by the program.
    pub fn doubts(&self) -> impl Iterator<Item = &Input> {
        self.inputs.values().filter(|input| input.is_doubted() && input.how != How::Decided)
    }
}

impl Brief {
    /// The same plan with what was measured, and with what is made already (ids in SI) stated; drafted and laid no further. Errs where
    /// that cannot be settled.
    pub fn with_measured(&self, measured: &[Measured], made: &[(u16, f64)]) -> Result<Brief, Unsettled> {
        let mut wishes = self.wishes.clone();
        let mut inputs = Inputs { given: wishes.given.clone(), all: self.inputs.clone() };
        // what was decided is decided anew
        for decision in &self.decisions {
            if inputs.all.get(&decision.slot).is_some_and(|input| input.how == How::Decided) {
                inputs.all.remove(&decision.slot);
            }
        }
        for value in measured {
            inputs.measure(value.slot, value.middle, value.low, value.high);
            wishes.open.warp_count &= value.slot != id::WARP_COUNT.slot;
        }
        if wishes.open.same_yarn {
            inputs.given.copy_warp_to_weft();
        }
        wishes.given = inputs.given;
        for &(slot, si) in made {
            wishes.state(slot, si);
            let made = Input { slot, how: How::Measured, middle: si, low: si, high: si, source: None, path: None };
            inputs.all.insert(slot, made);
        }
        let (given, mut decisions) = wishes.settle()?;
        // the mesh is decided from the artwork, which nothing measured here changes
        let of_print = [id::MESH.slot, id::MESH_THREAD.slot];
        decisions.extend(self.decisions.iter().filter(|made| of_print.contains(&made.slot)).cloned());
        let inputs = with_decisions(inputs.all, &given, &decisions);
        Ok(Brief { wishes, given, decisions, inputs, ..self.clone() })
    }
}

/// What the log says of an input, in SI: the 10 %, middle and 90 % points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    pub slot: u16,
    pub low: f64,
    pub middle: f64,
    pub high: f64,
}

/// Widest finished cloth thought of where the plan names no loom.
const WIDEST: f64 = 1.6;

/// Decides a plan. The errors are all that stand against it at once.
pub fn decide(plan: &Plan) -> Result<Brief, Vec<Diagnostic>> {
    decide_with(plan, &With::default())
}

/// What a plan is decided with, besides itself.
#[derive(Clone, Copy, Debug, Default)]
pub struct With<'a> {
    /// What its maker has measured.
    pub measured: &'a [Measured],
    /// How long to search for the lay.
    pub effort: Effort,
    /// Layouts found before.
    pub kept: Option<&'a Kept>,
}

/// Decides a plan with more than itself.
pub fn decide_with(plan: &Plan, with: &With) -> Result<Brief, Vec<Diagnostic>> {
    let mut found = Vec::new();
    let mut open = Open::default();
    let mut inputs = inputs::stated(plan);
    let woven = cloth::weave(plan, &mut found);
    let kind = plan.choice("fibre.kind").and_then(fibres::find);
    let (Some(woven), Some(kind)) = (woven, kind) else { return Err(found) };
    fibre::fibre(&mut inputs, plan, kind);
    fibre::yarns(&mut inputs, plan, kind, &mut open);
    cloth::cloth(&mut inputs, plan, &woven, &mut open);
    let loom = inputs.given.get(&id::WEAVING_WIDTH).map_or(WIDEST, |width| width.to_si());
    let wish = wish::wish(plan, &woven, &mut found);
    // looking at the artwork takes about as long as laying the pieces: what each core must do alone at once, the rest when it is asked for
    let lay = || {
        let wish = wish?;
        let stripes = stripes::finished(plan, &wish, &woven, (&inputs, open, with));
        article::article(&mut inputs, plan, wish, (Q::si(loom), stripes, with), &mut found)
    };
    let (drafted, _) = rayon::join(lay, || print::begin(plan));
    let days = season::season(&mut inputs, plan, &mut found);
    let printed = print::print(&mut inputs, plan, &mut found);
    let parts = machines::machines(&mut inputs, plan, &mut found);
    let Some((article, width)) = drafted else { return Err(found) };
    if any_error(&found) {
        return Err(found);
    }
    take_in(&mut inputs, &mut open, with.measured);
    let wishes = wishes(plan, &inputs, open, width, article.table(), parts);
    let (given, mut decisions) = wishes.settle().map_err(|unsettled| {
        let path = unsettled.what;
        vec![Diagnostic::error("cannot-decide", unsettled.why).at(plan.span(path).or(plan.span("cloth.mass")))]
    })?;
    decisions.extend(printed);
    let inputs = with_decisions(inputs.all, &given, &decisions);
    let (title, style, fibre) = (title(plan), plan.style(), kind.name);
    let plan = Arc::new(plan.clone());
    Ok(Brief { plan, title, style, fibre, wishes, given, decisions, inputs, article, woven, days, noticed: found })
}

/// What was measured stands before what was assumed.
fn take_in(inputs: &mut Inputs, open: &mut Open, measured: &[Measured]) {
    for value in measured {
        inputs.measure(value.slot, value.middle, value.low, value.high);
        // yarn that was spun and weighed is no longer a decision
        open.warp_count &= value.slot != id::WARP_COUNT.slot;
    }
    if open.same_yarn {
        inputs.given.copy_warp_to_weft();
    }
}

fn title(plan: &Plan) -> String {
    if plan.title().is_empty() { "A plan without a title".into() } else { plan.title().to_string() }
}

fn wishes(plan: &Plan, inputs: &Inputs, open: Open, width: Width, lay: Table, parts: Parts) -> Wishes {
    let firmness =
        plan.quantity::<Ratio>("cloth.firmness").map_or(cloth::USUAL_FIRMNESS, |stated| stated.middle.to_si());
    let stated = plan.quantity::<AreaMass>("cloth.mass").map(|stated| stated.middle);
    // with nothing at all to go by, the middle of what is usual for the article
    let by_heddle = inputs.has(&id::HEDDLE_SETT) || (inputs.has(&id::GAP) && inputs.has(&id::BLADE));
    let adrift = open.warp_count && open.sett && !by_heddle;
    let usual = || {
        Some(Q::si((inputs.given.get(&id::LEAST_MASS)?.to_si() * inputs.given.get(&id::GREATEST_MASS)?.to_si()).sqrt()))
    };
    let mass = stated.or_else(|| if adrift { usual() } else { None });
    Wishes { given: inputs.given.clone(), open, firmness, mass, width, lay: Arc::new(lay), parts }
}

/// The inputs with what was decided among them.
fn with_decisions(mut inputs: BTreeMap<u16, Input>, given: &Given, decisions: &[Decision]) -> BTreeMap<u16, Input> {
    let mut put = |slot: u16, how: How| {
        let Some(si) = given.si(slot) else { return };
        let entry =
            inputs.entry(slot).or_insert(Input { slot, how, middle: si, low: si, high: si, source: None, path: None });
        if entry.middle != si {
            // what was decided is what is made: it is not doubted
            *entry = Input { how, middle: si, low: si, high: si, ..*entry };
        }
    };
    for decision in decisions {
        put(decision.slot, How::Decided);
    }
    for slot in
        [id::LAY_LENGTH.slot, id::GARMENT_AREA.slot, id::SEAM_LENGTH.slot, id::WIDEST_PIECE.slot, id::MATCH_EXTRA.slot]
    {
        put(slot, How::Decided);
    }
    for slot in [id::LAY_WIDTH.slot, id::MASS_WISHED.slot] {
        put(slot, How::Given);
    }
    inputs
}

/// The assumption that stands behind an input, where one does.
pub fn assumption_of(slot: u16, fibre: &str) -> Option<Assumption> {
    let fibre = fibres::find(fibre)?;
    let mut inputs = Inputs::default();
    fibre::facts(&mut inputs, fibre);
    for assumption in super::assumed::general() {
        inputs.assume(&assumption);
    }
    let input = inputs.all.get(&slot)?;
    let (source, evidence) = input.source?;
    Some(Assumption { slot, middle: input.middle, low: input.low, high: input.high, source, evidence })
}
