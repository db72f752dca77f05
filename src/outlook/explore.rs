//! Explore: with what is fixed kept fixed, every design over cut, count, plies, twist, firmness, heddles and width that passes all checks,
//! and the front of those that no other beats in hours, fibre and mass. Walks a grid, runs the chain on each, draws nothing.

use crate::chain::decide::article::Effort;
use crate::chain::decide::{Brief, With, decide_with};
use crate::chain::given::Given;
use crate::chain::keys as id;
use crate::chain::lay::Row;
use crate::chain::mode::Numbers;
use crate::chain::settle::ends_off_loom;
use crate::chain::stages::run;
use crate::checks::{self, Facts, Severity};
use crate::garment::Kind;
use crate::plan::Plan;
use crate::trade::fibres::Plant;
use crate::units::show::Style;
use crate::units::*;
use rayon::prelude::*;

/// A design that passes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Design {
    /// How a tee is cut; none where the article has one cut, or the plan says which.
    pub cut: Option<&'static str>,
    /// tex.
    pub count: f64,
    pub plies: u32,
    /// Twist multiplier, Ne-inch.
    pub twist: f64,
    /// Share of the closest sett.
    pub firmness: f64,
    pub heddles: u32,
    /// Finished width, cm.
    pub width: f64,
    pub hours: f64,
    /// Raw fibre, g.
    pub fibre: f64,
    /// Finished cloth, g/m2.
    pub mass: f64,
}

impl Design {
    /// Plan keys, and what to type there, that make a plan this design.
    pub fn typed(&self) -> Vec<(&'static str, String)> {
        let strand = if self.plies > 1 { "R " } else { "" };
        let mut out = vec![
            ("yarn.warp.count", format!("{strand}{:.1} tex", self.count)),
            ("yarn.warp.plies", self.plies.to_string()),
            ("yarn.warp.twist", format!("{:.2} TM", self.twist)),
            ("cloth.firmness", format!("{:.0} %", self.firmness * 100.0)),
            ("cloth.width", format!("{:.1} cm", self.width)),
            ("loom.heddle.heddles", self.heddles.to_string()),
        ];
        out.extend(self.cut.map(|cut| ("garment.cut", cut.to_string())));
        out
    }
}

/// What was looked through, and what came of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// Designs tried.
    pub tried: usize,
    /// Designs that pass every check that can fail.
    pub passed: usize,
    /// Those that no other beats in hours and fibre at their mass, by mass.
    pub front: Vec<Design>,
    /// Some that pass, spread evenly over all, for a picture.
    pub some: Vec<Design>,
}

/// Axes of the grid; what the plan fixes has one value.
struct Axes {
    counts: Vec<f64>,
    plies: Vec<u32>,
    twists: Vec<f64>,
    firmness: Vec<f64>,
    heddles: Vec<u32>,
    rows: Vec<Row>,
}

/// Designs shown in a picture.
const SHOWN: usize = 2000;

impl Axes {
    fn new(brief: &Brief, designs: usize) -> Self {
        let open = brief.wishes.open;
        let value = |key| brief.given.get(key).map_or(0.0, |v: Q<LinearDensity>| v.get(&TEX));
        let spaced = |from: f64, to: f64, steps: usize| -> Vec<f64> {
            (0..steps).map(|at| from + (to - from) * at as f64 / (steps - 1).max(1) as f64).collect()
        };
        let least = brief.given.get(&id::WARP_TWIST_LEAST).map_or(3.5, |v| v.get(&TM));
        let most = brief.given.get(&id::WARP_TWIST_MOST).map_or(4.5, |v| v.get(&TM));
        let plies = if open.warp_count { vec![1, 2] } else { vec![plies_of(&brief.given)] };
        let heddles = match brief.wishes.parts.heddles {
            Some(_) => vec![1, 2],
            None => vec![brief.given.get(&id::HEDDLES).map_or(1, |v| v.to_si() as u32)],
        };
        let rows = brief.wishes.lay.rows().to_vec();
        let twists = spaced(least, most, 5);
        let set = plies.len() * heddles.len() * rows.len().max(1) * twists.len();
        // count and firmness share what is left of the budget, count the larger part
        let left = (designs / set.max(1)).max(16) as f64;
        let of_firmness = if open.sett { (left.sqrt() * 0.6).clamp(4.0, 60.0) as usize } else { 1 };
        let of_count = if open.warp_count { (left / of_firmness as f64).max(4.0) as usize } else { 1 };
        let counts = if of_count == 1 {
            vec![value(&id::WARP_COUNT)]
        } else {
            spaced(libm::log(12.0), libm::log(400.0), of_count).into_iter().map(libm::exp).collect()
        };
        let firmness = if of_firmness == 1 { Vec::new() } else { spaced(0.46, 0.88, of_firmness) };
        Axes { counts, plies, twists, firmness, heddles, rows }
    }
    fn len(&self) -> usize {
        self.counts.len()
            * self.plies.len()
            * self.twists.len()
            * self.firmness.len().max(1)
            * self.heddles.len()
            * self.rows.len()
    }
}

fn plies_of(given: &Given) -> u32 {
    given.get(&id::WARP_PLIES).map_or(1, |plies| plies.to_si() as u32)
}

/// Looks through about `designs` designs. What the plan leaves open is open: cut, count, sett, number of heddles; the width always is, up
/// to the loom's, unless the plan states one.
pub fn explore(brief: &Brief, designs: usize) -> Found {
    let cuts = cuts(brief);
    let mut tried = 0;
    let mut passed: Vec<Design> = Vec::new();
    for (cut, brief) in &cuts {
        let (some, found) = of_cut(brief, designs / cuts.len());
        tried += some;
        passed.extend(found.into_iter().map(|design| Design { cut: *cut, ..design }));
    }
    let step = (passed.len() / SHOWN).max(1);
    Found { tried, passed: passed.len(), front: front(&passed), some: passed.iter().step_by(step).copied().collect() }
}

/// The plan laid on many widths; both cuts of a tee where it says neither.
fn cuts(brief: &Brief) -> Vec<(Option<&'static str>, Brief)> {
    let plan = &brief.plan;
    let tee = matches!(brief.article.garment.kind, Kind::TeeShaped | Kind::TeeStraight);
    let wide = |plan: &Plan| decide_with(plan, &With { effort: Effort::Wide, ..With::default() }).ok();
    if tee && !plan.is_given("garment.cut") {
        let with = |cut: &'static str| Some((Some(cut), wide(&plan.with(&[("garment.cut", cut)])?)?));
        let both: Vec<_> = ["shaped", "straight"].into_iter().filter_map(with).collect();
        if !both.is_empty() {
            return both;
        }
    }
    vec![(None, wide(plan).unwrap_or_else(|| brief.clone()))]
}

/// How many were tried of one cut, and those that pass.
fn of_cut(brief: &Brief, designs: usize) -> (usize, Vec<Design>) {
    let axes = Axes::new(brief, designs);
    let tried = axes.len();
    let wool = brief.given.choices.plant == Plant::Wool;
    let chunks: Vec<usize> = (0..axes.counts.len() * axes.plies.len()).collect();
    let passed: Vec<Design> = chunks
        .into_par_iter()
        .map_init(Numbers::default, |numbers, at| slice(brief, &axes, at, wool, numbers))
        .collect::<Vec<_>>()
        .into_iter()
        .flatten()
        .collect();
    (tried, passed)
}

/// All designs of one count and number of plies.
fn slice(brief: &Brief, axes: &Axes, at: usize, wool: bool, numbers: &mut Numbers) -> Vec<Design> {
    let (count, plies) = (axes.counts[at / axes.plies.len()], axes.plies[at % axes.plies.len()]);
    let mut given = brief.given.clone();
    given.set(&id::WARP_COUNT, Q::new(count, &TEX));
    given.set(&id::WARP_PLIES, Q::si(f64::from(plies)));
    let mut out = Vec::new();
    for twist in &axes.twists {
        given.set(&id::WARP_MULTIPLIER, Q::new(*twist, &TM));
        if brief.wishes.open.same_yarn {
            given.copy_warp_to_weft();
        }
        for heddles in &axes.heddles {
            if given.get(&id::HEDDLES).is_some() {
                given.set(&id::HEDDLES, Q::si(f64::from(*heddles)));
            }
            let greatest = crate::chain::settle::greatest_sett(&given);
            let firmness = if axes.firmness.is_empty() {
                vec![brief.given.get(&id::SETT_IN_REED).map_or(0.0, |sett| sett.to_si()) / greatest]
            } else {
                axes.firmness.clone()
            };
            for firm in firmness {
                given.set(&id::SETT_IN_REED, Q::si(greatest * firm));
                if brief.wishes.open.balanced {
                    given.set(&id::PICKS_OFF_LOOM, Q::si(ends_off_loom(&given)));
                }
                for row in &axes.rows {
                    lay(&mut given, row);
                    if let Some(design) = verdict(&given, numbers, wool, (count, plies, *twist, firm, *heddles)) {
                        out.push(design);
                    }
                }
            }
        }
    }
    out
}

fn lay(given: &mut Given, row: &Row) {
    given.set(&id::LAY_WIDTH, row.width);
    row.state(given);
}

/// The design, where no check that can fail does.
fn verdict(
    given: &Given,
    numbers: &mut Numbers,
    wool: bool,
    (count, plies, twist, firmness, heddles): (f64, u32, f64, f64, u32),
) -> Option<Design> {
    numbers.clear();
    run(given, numbers);
    let facts = Facts { numbers, style: Style::Metric, wool };
    let fails = checks::ALL
        .iter()
        .any(|check| check.severity == Severity::Fail && (check.margin)(&facts).is_some_and(|margin| margin < 0.0));
    if fails {
        return None;
    }
    Some(Design {
        cut: None,
        count,
        plies,
        twist,
        firmness,
        heddles,
        width: given.get(&id::LAY_WIDTH)?.get(&CM),
        hours: numbers.get(&id::TOTAL_HOURS)?.get(&HOUR),
        fibre: numbers.get(&id::RAW_FIBRE)?.get(&G),
        mass: numbers.get(&id::CLOTH_MASS)?.get(&G_M2),
    })
}

/// Bands of mass, g/m2, within which designs compete.
const BAND: f64 = 10.0;

/// In each band of mass, the designs that no other of the band beats in both hours and fibre.
fn front(designs: &[Design]) -> Vec<Design> {
    let mut sorted = designs.to_vec();
    let band = |design: &Design| (design.mass / BAND).floor();
    sorted.sort_by(|a, b| {
        band(a).total_cmp(&band(b)).then(a.hours.total_cmp(&b.hours)).then(a.fibre.total_cmp(&b.fibre))
    });
    let mut out: Vec<Design> = Vec::new();
    let mut least = f64::INFINITY;
    for design in sorted {
        if out.last().is_none_or(|last| band(last) != band(&design)) {
            least = f64::INFINITY;
        }
        if design.fibre < least * 0.995 {
            least = design.fibre;
            out.push(design);
        }
    }
    out
}
