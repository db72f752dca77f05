//! Ways out when something will not last. Each is put to the same question again through the whole plan: pieces drafted and laid
//! anew where the garment changes, the chain run anew where a number does.

use super::questions::{Answer, Question, Weft};
use super::{Rescue, Stand};
use crate::chain::decide::{Brief, decide};
use crate::chain::keys as id;
use crate::chain::mode::Numbers;
use crate::chain::stages::run;
use crate::garment::Kind as Article;
use crate::measure::links::{self, AS_IT_IS, Help, Warp};
use crate::measure::yarn::Strength;
use crate::units::show::{self, Style};
use crate::units::*;

/// A chance at which a way out is a way out.
const SAFE: f64 = 0.9;
/// A way out that adds less to the chance is left out.
const WORTH: f64 = 0.02;

/// Something to try: what to do, what to type, what it costs.
struct Way {
    does: String,
    moves: Vec<(&'static str, String)>,
    costs: String,
}

impl Way {
    fn new(does: impl Into<String>, costs: impl Into<String>) -> Self {
        Way { does: does.into(), moves: Vec::new(), costs: costs.into() }
    }
}

/// Ways out of a question that stands badly, the surest first.
pub(super) fn rescues(stand: &Stand, brief: &Brief, question: Question, now: &Answer) -> Vec<Rescue> {
    let mut found = Vec::new();
    let tried = Tried { stand, brief, question, now };
    found.extend(tried.garments());
    match question {
        Question::Weft => found.extend(tried.wefts()),
        Question::Fibre => found.extend(tried.fibres()),
        Question::Warp => found.extend(tried.warps()),
        Question::Width => {}
    }
    found.retain(|rescue| rescue.chance > now.chance + WORTH);
    // what is enough first, the least change before the greater; then the rest by how far it helps
    let safe = |rescue: &Rescue| rescue.chance >= SAFE - 1e-3;
    found.sort_by(|a, b| match (safe(a), safe(b)) {
        (false, false) => b.chance.total_cmp(&a.chance),
        (a, b) => b.cmp(&a),
    });
    found
}

struct Tried<'a> {
    stand: &'a Stand<'a>,
    brief: &'a Brief,
    question: Question,
    now: &'a Answer,
}

impl Tried<'_> {
    fn style(&self) -> Style {
        self.brief.style
    }

    /// The question put again.
    fn again(&self, brief: &Brief, weft: &Weft, way: Way) -> Option<Rescue> {
        let then = self.question.ask(self.stand, brief, weft)?;
        let Way { does, moves, costs } = way;
        Some(Rescue { does, moves, gives: then.figure[0] - self.now.figure[0], chance: then.chance, costs })
    }

    fn with(&self, made: &[(u16, f64)], way: Way) -> Option<Rescue> {
        let brief = self.stand.brief(self.stand.planned, made).ok()?;
        self.again(&brief, &Weft::of(self.stand), way)
    }

    /// A smaller garment: shorter, with shorter or narrower sleeves, or one fewer.
    fn garments(&self) -> Vec<Rescue> {
        let wish = &self.brief.article.wish;
        let mut found = Vec::new();
        match self.brief.article.garment.kind {
            Article::TeeShaped | Article::TeeStraight => {
                let length = wish.length.map(Q::to_si).or_else(|| self.probed("garment.length", "front", Side::Length));
                found.extend(self.smaller("garment.length", length, "Make it", "long"));
                let sleeve = self.probed("garment.sleeve.length", "sleeve", Side::Length);
                found.extend(self.smaller("garment.sleeve.length", sleeve, "Make the sleeves", "long"));
                let ease = self.probed("garment.ease.upper_arm", "sleeve", Side::Width);
                found.extend(self.smaller(
                    "garment.ease.upper_arm",
                    ease,
                    "Make the sleeves narrower: ease",
                    "round the arm",
                ));
            }
            Article::Pieces => {}
            _ => {
                let length = wish.finished.map(|finished| finished.length.to_si());
                found.extend(self.smaller("garment.finished.length", length, "Make it", "long"));
            }
        }
        let many = self.brief.article.garment.how_many;
        if many > 1 {
            let typed = (many - 1).to_string();
            let way = Way {
                moves: vec![("garment.how_many", typed.clone())],
                ..Way::new(format!("Make {typed} instead of {many}"), "")
            };
            found.extend(
                self.redrafted(&[("garment.how_many", typed)])
                    .and_then(|brief| self.again(&brief, &Weft::of(self.stand), way)),
            );
        }
        found
    }

    /// The plan with other words in it, drafted and laid on the same width again.
    fn redrafted(&self, changes: &[(&str, String)]) -> Option<Brief> {
        let mut all: Vec<(&str, &str)> = changes.iter().map(|(path, typed)| (*path, typed.as_str())).collect();
        let width = self.stand.planned.given.get(&id::LAY_WIDTH)?.get(&CM);
        // a hair wider, so that a piece as wide as the cloth still lies on it
        let width = format!("{:.2} cm", width + 0.005);
        if self.stand.samples.is_warped() {
            all.push(("cloth.width", &width));
        }
        let brief = decide(&self.stand.planned.plan.with(&all)?).ok()?;
        self.stand.brief(&brief, &[]).ok()
    }

    /// A size that the plan leaves to the draft, in m: from how far the piece moves when the size is stated.
    fn probed(&self, path: &'static str, piece: &str, side: Side) -> Option<f64> {
        let plan = &self.stand.planned.plan;
        if let Some(stated) = plan.quantity::<Length>(path) {
            return Some(stated.middle.to_si());
        }
        let of = |brief: &Brief| {
            let found = brief.article.garment.pieces.iter().find(|p| p.name.to_lowercase().contains(piece))?;
            Some(if side == Side::Length { found.length() } else { found.width() } / 1000.0)
        };
        let (try_at, now) = (0.2, of(self.stand.planned)?);
        let tried = decide(&plan.with(&[(path, "20 cm")])?).ok()?;
        let size = try_at + now - of(&tried)?;
        (size > 0.0).then_some(size)
    }

    /// The least whole step by which a size must shrink; the largest step tried, where none is enough.
    fn smaller(&self, path: &'static str, now: Option<f64>, does: &str, after: &str) -> Option<Rescue> {
        const STEPS: [f64; 4] = [0.02, 0.04, 0.06, 0.10];
        let now = now?;
        let text = |si: f64| show::quantity(si, &AnyUnit { name: CM.name, scale: CM.scale }, self.style());
        let mut last = None;
        for less in STEPS {
            // whole centimetres or half inches: what one marks with a ruler
            let step = if self.style() == Style::Inch { 0.0127 } else { 0.01 };
            let size = ((now - less) / step + 1e-6).floor() * step;
            if size < 0.02 || less > 0.4 * now {
                break;
            }
            let typed = if self.style() == Style::Inch {
                format!("{:.1} in", size / 0.0254)
            } else {
                format!("{:.0} cm", size * 100.0)
            };
            let Some(brief) = self.redrafted(&[(path, typed.clone())]) else { break };
            let does = format!("{does} {} {after} instead of {}", text(size), text(now));
            let way = Way { moves: vec![(path, typed)], ..Way::new(does, "") };
            let Some(found) = self.again(&brief, &Weft::of(self.stand), way) else { break };
            let enough = found.chance >= SAFE;
            // a step that gives less than a smaller one is the lay's doing, not the garment's
            if last.as_ref().is_none_or(|last: &Rescue| found.chance > last.chance) {
                last = Some(found);
            }
            if enough {
                break;
            }
        }
        last
    }

    /// More weft, or less of it to a length.
    fn wefts(&self) -> Vec<Rescue> {
        let now = Weft::of(self.stand);
        let text = |grams: f64| show::natural(grams, Kind::Mass, self.style());
        let mut found = Vec::new();
        if let Some(way) = self.open_beat() {
            found.extend(self.again(self.brief, &Weft { left: now.left, used: Vec::new() }, way));
        }
        if let Some((mass, names)) = self.set_aside() {
            let way = Way::new(
                format!("Weave a stripe of bobbin {names}, which you set aside: {}", text(mass)),
                "it shows, so let it look meant: at the hems, or across the chest",
            );
            found.extend(self.again(self.brief, &Weft { left: now.left + mass, used: now.used.clone() }, way));
        }
        let repair = self.brief.given.get(&id::REPAIR).map_or(0.0, Q::to_si);
        if repair > 0.0 {
            let way =
                Way::new(format!("Weave the skein kept for mending: {}", text(repair)), "nothing is left to mend with");
            found.extend(self.again(self.brief, &Weft { left: now.left + repair, used: now.used.clone() }, way));
        }
        let short = -self.now.figure[1];
        if short > 0.0 {
            let way = Way::new(format!("Spin or buy {} more of weft", text(short)), self.hours_to_spin(short));
            found.extend(self.again(self.brief, &Weft { left: now.left + short, used: now.used }, way));
        }
        found
    }

    /// Beating as the plan has it, where the beat has crept closer.
    fn open_beat(&self) -> Option<Way> {
        let last: Vec<f64> = self.stand.samples.picks.iter().rev().take(3).map(|picks| picks.to_si()).collect();
        let mut numbers = Numbers::default();
        run(&self.brief.given, &mut numbers);
        let planned = numbers.get(&id::PICKS_ON_LOOM)?.to_si();
        let now = last.iter().sum::<f64>() / last.len().max(1) as f64;
        let unit = AnyUnit { name: PER_CM.name, scale: PER_CM.scale };
        let text = |si: f64| show::quantity(si, &unit, self.style());
        (now > 1.02 * planned).then(|| {
            let does = format!("Beat to {} again, as planned, instead of {}", text(planned), text(now));
            Way::new(does, "the cloth is a little more open from here on")
        })
    }

    /// Bobbins that were left out because they are not like the rest.
    fn set_aside(&self) -> Option<(f64, String)> {
        let aside = super::evenness(self.brief, self.stand.samples)?.shares.aside;
        let mass: f64 = aside.iter().map(|b| b.count.to_si() * b.length.to_si()).sum();
        let names: Vec<String> = aside.iter().map(|b| b.name.to_string()).collect();
        (mass > 0.0).then(|| (mass, names.join(" and ")))
    }

    /// What spinning this much takes, at one's own pace.
    fn hours_to_spin(&self, mass: f64) -> String {
        let mut numbers = Numbers::default();
        run(&self.brief.given, &mut numbers);
        let (Some(hours), Some(whole)) = (numbers.get(&id::SPINNING), numbers.get(&id::YARN_MASS)) else {
            return String::new();
        };
        format!("{} of spinning", show::natural(hours.to_si() * mass / whole.to_si(), Kind::Duration, self.style()))
    }

    /// Before the warp is wound the cloth itself may still change.
    fn fibres(&self) -> Vec<Rescue> {
        let mut found = Vec::new();
        let typed = |path: &'static str, kind, si| (path, self.stand.planned.plan.phrase(path, kind, si));
        let firm = self.brief.wishes.firmness;
        for less in [0.03, 0.06] {
            let (at, open) = (firm - less, self.brief.wishes.open.sett);
            let way = Way {
                moves: vec![typed("cloth.firmness", Kind::Ratio, at)],
                ..Way::new(
                    format!("Weave it looser: {:.0} % firm instead of {:.0} %", 100.0 * at, 100.0 * firm),
                    "a softer, more open cloth",
                )
            };
            found.extend(open.then(|| self.with(&[(id::FIRMNESS.slot, at)], way)).flatten());
            if found.last().is_some_and(|rescue| rescue.chance >= SAFE) {
                break;
            }
        }
        let spare = self.brief.given.get(&id::SPARE).map_or(0.0, Q::to_si);
        if spare > 0.03 {
            let way = Way {
                moves: vec![typed("warp.spare", Kind::Ratio, 0.03)],
                ..Way::new(
                    format!("Spin 3 % to spare instead of {:.0} %", 100.0 * spare),
                    "less for knots and mended ends",
                )
            };
            found.extend(self.with(&[(id::SPARE.slot, 0.03)], way));
        }
        found.extend(self.more_fibre());
        found
    }

    fn more_fibre(&self) -> Option<Rescue> {
        let mut numbers = Numbers::default();
        run(&self.brief.given, &mut numbers);
        let yarn = -self.now.figure[1];
        let raw = yarn * numbers.get(&id::RAW_FIBRE)?.to_si() / numbers.get(&id::YARN_MASS)?.to_si();
        let mut brief = self.brief.clone();
        let there = brief.given.get(&id::RAW_ON_HAND)?.to_si();
        brief.given.set(&id::RAW_ON_HAND, Q::si(there + raw));
        let does = format!("Find {} more raw fibre", show::natural(raw, Kind::Mass, self.style()));
        (yarn > 0.0).then(|| self.again(&brief, &Weft::default(), Way::new(does, ""))).flatten()
    }

    /// Warp that need not be wasted.
    fn warps(&self) -> Vec<Rescue> {
        let value = |slot: u16| self.brief.given.si(slot).unwrap_or(0.0);
        let text = |si: f64| show::quantity(si, &AnyUnit { name: CM.name, scale: CM.scale }, self.style());
        let mut found = Vec::new();
        let back = value(id::WASTE_BACK.slot);
        if back > 0.2 {
            let does = format!("Lengthen the cords of the back rod, so that only {} stays unwoven behind", text(0.2));
            found.extend(
                self.with(&[(id::WASTE_BACK.slot, 0.2)], Way::new(does, "the shed gets small towards the end")),
            );
        }
        let sample = value(id::WARP_EXTRA.slot);
        if sample > 0.1 && !self.stand.samples.is_weaving() {
            let does = format!("Weave a header of {} only, and no sample", text(0.1));
            found.extend(
                self.with(&[(id::WARP_EXTRA.slot, 0.1)], Way::new(does, "you cut without having washed a piece of it")),
            );
        }
        found
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Length,
    Width,
}

/// What helps a warp that breaks.
pub(super) fn of_breaks(strength: &Strength, warp: &Warp, most: u32) -> Vec<Rescue> {
    let now = links::buys(strength, warp, &[AS_IT_IS]).first().map_or(0.0, |(_, range)| range[0]);
    let rescue = |(help, range): (Help, [f64; 3])| Rescue {
        does: capital(help.name),
        moves: Vec::new(),
        gives: now - range[0],
        chance: links::few(strength, warp, &help, most),
        costs: format!("then about {} broken ends ({} to {})", ends(range[0]), ends(range[1]), ends(range[2])),
    };
    links::buys(strength, warp, &links::HELPS).into_iter().map(rescue).collect()
}

fn ends(number: f64) -> String {
    if number < 0.95 { "none or one".into() } else { show::number(number.round()) }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
