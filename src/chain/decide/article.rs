//! The article of a plan: its wish, its draft, and the lay as a table over widths. Drafting and laying happen here and nowhere else; a trial
//! reads the table.

use super::With;
use super::inputs::{How, Inputs};
use crate::chain::keys as id;
use crate::chain::lay::{Row, Table};
use crate::chain::wishes::Width;
use crate::diag::Diagnostic;
use crate::garment::{
    self, Body, EaseWish, Finished, FreePiece, Garment, HandleWish, Kind, NeckStyle, NeckWish, Outline, PrintWish,
    SeamKind, SewWish, SleeveWish, Wish,
};
use crate::plan::{PieceWish, Plan};
use crate::trade::body::Part;
use crate::units::show::Style;
use crate::units::*;
use crate::{geom, nest};
use rayon::prelude::*;
use std::sync::Arc;

/// The garment on one width of cloth, and how it lies there.
#[derive(Clone, Debug)]
pub struct Laid {
    /// Finished width.
    pub width: Q<Length>,
    /// Pieces as cut from that width, seams added where one had to be split; of one article.
    pub garment: Garment,
    pub job: nest::Job,
    pub layout: nest::Layout,
    /// For each piece of the job, its place in the garment.
    pub names: Vec<usize>,
}

/// The draft and every width it was laid on, narrowest first.
#[derive(Clone, Debug)]
pub struct Article {
    pub wish: Wish,
    pub garment: Garment,
    pub laid: Arc<Vec<Laid>>,
}

impl Article {
    /// The lay that the cloth of that width is cut by.
    pub fn on(&self, width: Q<Length>) -> Option<&Laid> {
        let fits = |laid: &&Laid| laid.width.to_si() <= width.to_si() * (1.0 + 1e-9);
        let shortest = |a: &&Laid, b: &&Laid| a.layout.length.total_cmp(&b.layout.length);
        self.laid.iter().filter(fits).min_by(shortest).or(self.laid.first())
    }
    /// The same with every other width up to `greatest` worth a try laid by the plain rule, for the curve that compares widths.
    pub fn swept(&self, greatest: Q<Length>) -> Article {
        let near = |a: Q<Length>, b: Q<Length>| (a.get(&MM) - b.get(&MM)).abs() < 1.0;
        let open = |width: &Q<Length>| !self.laid.iter().any(|laid| near(laid.width, *width));
        let others: Vec<Q<Length>> = candidates(&self.garment, greatest).into_iter().filter(open).collect();
        let plain = |width: Q<Length>| lay_by(&self.garment, width, &nest::bottom_left).ok();
        let mut laid: Vec<Laid> =
            self.laid.iter().filter(|laid| laid.width.to_si() <= greatest.to_si()).cloned().collect();
        laid.extend(others.into_par_iter().filter_map(plain).collect::<Vec<_>>());
        Article { laid: Arc::new(laid), ..self.clone() }
    }
    /// The table the chain reads.
    pub fn table(&self) -> Table {
        let articles = f64::from(self.garment.how_many);
        let row = |laid: &Laid| {
            let measures = garment::measures(&laid.garment);
            Row {
                width: laid.width,
                length: Q::new(laid.layout.length, &MM),
                area: measures.area * articles,
                seams: (measures.seams + measures.hems) * articles,
                widest: measures.widest,
            }
        };
        Table::new(self.laid.iter().map(row).collect())
    }
}

/// How far the outline that is laid may lie from the one that is cut, mm: half a chalk line, and a sixtieth of a seam allowance. Fewer points
/// make a lay many times quicker.
const CLOSE: f64 = 0.25;

/// How long to search for the lay.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Effort {
    /// Milliseconds: the likeliest widths, a few thousand places tried on each. What every edit gets.
    #[default]
    Quick,
    /// A second: many widths, each laid as quickly. What a search over widths gets.
    Wide,
    /// Seconds: every width worth a try, until the lay is within a hundredth or two of the best.
    Thorough,
}

impl Effort {
    /// Widths laid at most, and the search on each.
    fn budget(self) -> (usize, nest::Budget) {
        match self {
            Effort::Quick => (2, nest::Budget { evaluations: 6_000, workers: 1, seed: 1 }),
            Effort::Wide => (10, nest::Budget { evaluations: 6_000, workers: 1, seed: 1 }),
            Effort::Thorough => (8, nest::Budget { evaluations: 400_000, workers: 2, seed: 1 }),
        }
    }
}

/// Usual masses of the finished cloth by article, g/m2 (common practice, no source; shirtings 110 to 200).
fn usual_mass(kind: Kind) -> (f64, f64) {
    match kind {
        Kind::TeeShaped | Kind::TeeStraight => (100.0, 220.0),
        Kind::Apron => (150.0, 380.0),
        Kind::Tote => (180.0, 500.0),
        Kind::Towel => (140.0, 420.0),
        Kind::Scarf => (70.0, 330.0),
        Kind::Pieces => (50.0, 700.0),
    }
}

/// Loosest sett by article, as a share of the closest: what is cut and sewn must hold its seams, a scarf only itself (common practice, no
/// source; about 60 % counts as loose, 75 % as firm).
fn least_firmness(kind: Kind) -> f64 {
    match kind {
        Kind::TeeShaped | Kind::TeeStraight | Kind::Apron | Kind::Tote => 0.55,
        Kind::Towel => 0.50,
        Kind::Scarf => 0.40,
        Kind::Pieces => 0.45,
    }
}

/// Drafts and lays what the plan asks for. `greatest` is the widest finished cloth to think of.
pub fn article(
    inputs: &mut Inputs,
    plan: &Plan,
    (greatest, with): (Q<Length>, &With),
    found: &mut Vec<Diagnostic>,
) -> Option<(Article, Width)> {
    let wish = wish(plan, found)?;
    let garment = match garment::draft(&wish) {
        Ok(garment) => garment,
        Err(faults) => {
            found.extend(faults.iter().map(|fault| diagnostic(plan, fault)));
            return None;
        }
    };
    let width = fixed_width(plan, &wish);
    let widths = match width {
        Some(width) => vec![width],
        None => likeliest(&garment, reach(inputs, greatest), with.effort.budget().0),
    };
    let budget = with.effort.budget().1;
    let search = |job: &nest::Job| match with.kept {
        Some(kept) => kept.solve(job, &budget, &never_stop),
        None => nest::solve(job, &budget, &never_stop),
    };
    let laid: Vec<Laid> = widths.into_par_iter().filter_map(|width| lay_by(&garment, width, &search).ok()).collect();
    if laid.is_empty() {
        let why = lay_by(&garment, width.unwrap_or(greatest), &search).err().unwrap_or_default();
        found.push(Diagnostic::error("lay", why).at(plan.span("cloth.width").or(plan.span("garment.kind"))));
        return None;
    }
    numbers(inputs, plan, &wish, &garment);
    let width = width.map_or(Width::Open, Width::Fixed);
    Some((Article { wish, garment, laid: Arc::new(laid) }, width))
}

/// Never ends a search early.
pub fn never_stop(_: &nest::Progress) -> bool {
    false
}

/// The article's own width where it is the cloth's, or the plan's.
fn fixed_width(plan: &Plan, wish: &Wish) -> Option<Q<Length>> {
    if let Some(stated) = plan.quantity::<Length>("cloth.width") {
        return Some(stated.middle);
    }
    match wish.kind {
        // the cloth is cut larger by what later washes take, and so is the article whose edges are the cloth's own
        Kind::Towel | Kind::Scarf => {
            wish.finished.map(|finished| finished.width * (1.0 / (1.0 - wish.residual_shrink.to_si())))
        }
        _ => None,
    }
}

/// Widths worth a try: those on which whole pieces lie side by side, and halves of the widest.
fn candidates(garment: &Garment, greatest: Q<Length>) -> Vec<Q<Length>> {
    let mut sizes: Vec<f64> = Vec::new();
    let whole: Vec<f64> =
        garment.pieces.iter().filter(|p| p.cloth == garment::Cloth::Main).map(|p| p.width()).collect();
    for (at, width) in whole.iter().enumerate() {
        sizes.push(*width);
        sizes.extend(whole[at..].iter().map(|other| width + other));
    }
    let widest = whole.iter().copied().fold(0.0, f64::max);
    // the widest in two, three and four, each with a seam on every cut side
    sizes.extend([2.0, 3.0, 4.0].map(|parts| widest / parts + 2.0 * garment.allowance * (parts - 1.0) / parts));
    let limit = greatest.get(&MM);
    // to the next whole millimetre: nobody sets a finished width finer
    let mut sizes: Vec<f64> =
        sizes.into_iter().map(|size| (size - 1e-6).ceil()).filter(|size| *size <= limit).collect();
    sizes.push((limit - 0.5).floor());
    sizes.sort_by(|a, b| b.total_cmp(a));
    sizes.dedup();
    sizes.into_iter().map(|mm| Q::new(mm, &MM)).collect()
}

/// Finished widths that this loom surely, and with luck, weaves: how much the cloth draws in is not known before its yarn is.
fn reach(inputs: &Inputs, loom: Q<Length>) -> [Q<Length>; 2] {
    let shrink = inputs.given.get(&id::SHRINK_WIDTH).map_or(0.0, Q::to_si);
    let edges = inputs.given.get(&id::EDGE_DRAW_IN).map_or(0.0, Q::to_si);
    let stated = inputs.given.get(&id::WEAVING_WIDTH).is_some();
    [0.88, 0.98].map(|drawn| if stated { Q::si((loom.to_si() * drawn - edges) * (1.0 - shrink)) } else { loom })
}

/// The widths likeliest to be chosen, the best of those the loom surely weaves first; judged by the pieces' bounds on shelves,
/// since a lay is far dearer than that.
fn likeliest(garment: &Garment, [sure, hoped]: [Q<Length>; 2], most: usize) -> Vec<Q<Length>> {
    let whole = garment::measures(garment);
    let judged = |width: Q<Length>| {
        let (seams, long) = if width.to_si() >= whole.widest.to_si() {
            (whole.seams, shelves(garment, width.get(&MM)))
        } else {
            let split = garment::on_cloth(garment, width).ok()?;
            (garment::measures(&split).seams, shelves(&split, width.get(&MM)))
        };
        // what no loom weaves counts with every metre
        Some(Row { width, length: Q::new(long, &MM), area: Q::si(0.0), seams, widest: width })
    };
    let waste = Q::new(LOOM_WASTE, &MM);
    let mut open: Vec<Row> = candidates(garment, hoped).into_iter().chain([sure]).filter_map(judged).collect();
    let mut out: Vec<Q<Length>> = Vec::new();
    while out.len() < most && !open.is_empty() {
        // first one that is sure to fit, then the best of all that are left
        let limit = if out.is_empty() { sure } else { hoped };
        let table = Table::new(open.clone());
        let Some(best) = table.least(limit, waste).map(|row| row.width) else { break };
        out.push(best);
        open.retain(|row| row.width != best);
    }
    out
}

/// Waste of a usual loom, mm, for choosing widths before the plan's own is asked.
const LOOM_WASTE: f64 = 530.0;

/// Length of cloth, mm, when the bounds of all pieces stand on shelves, the longest first.
fn shelves(garment: &Garment, width: f64) -> f64 {
    let main = garment.pieces.iter().filter(|piece| piece.cloth == garment::Cloth::Main);
    let mut sizes: Vec<(f64, f64)> = main
        .flat_map(|piece| {
            std::iter::repeat_n((piece.length(), piece.width()), (piece.how_many * garment.how_many) as usize)
        })
        .collect();
    sizes.sort_by(|a, b| b.0.total_cmp(&a.0).then(b.1.total_cmp(&a.1)));
    let mut shelves: Vec<(f64, f64)> = Vec::new();
    for (long, wide) in sizes {
        match shelves.iter_mut().find(|(_, left)| *left >= wide - 1e-6) {
            Some((_, left)) => *left -= wide,
            None => shelves.push((long, width - wide)),
        }
    }
    shelves.iter().map(|(long, _)| long).sum()
}

/// Splits what must be split and lays all articles on cloth of one width. The error says why not, for a person.
pub fn lay(
    whole: &Garment,
    width: Q<Length>,
    budget: &nest::Budget,
    stop: &(dyn Fn(&nest::Progress) -> bool + Sync),
) -> Result<Laid, String> {
    lay_by(whole, width, &|job| nest::solve(job, budget, stop))
}

/// A way to lay a job.
type Layer<'a> = &'a (dyn Fn(&nest::Job) -> Result<nest::Layout, nest::Fault> + Sync);

fn lay_by(whole: &Garment, width: Q<Length>, layer: Layer) -> Result<Laid, String> {
    let words =
        |faults: Vec<garment::Fault>| faults.iter().map(|fault| fault.text.clone()).collect::<Vec<_>>().join(" ");
    let garment = garment::on_cloth(whole, width).map_err(words)?;
    let mut names = Vec::new();
    let mut pieces = Vec::new();
    for (at, piece) in garment.pieces.iter().enumerate().filter(|(_, piece)| piece.cloth == garment::Cloth::Main) {
        let copies = (piece.how_many * garment.how_many) as usize;
        // a left and a right are cut as each other's mirror image
        let mirrored = if piece.pairs && !piece.symmetric { copies / 2 } else { 0 };
        for (mirror, how_many) in [(false, copies - mirrored), (true, mirrored)] {
            if how_many > 0 {
                names.push(at);
                pieces.push(nest_piece(piece, mirror, how_many));
            }
        }
    }
    let job = nest::Job::new(width.get(&MM), pieces);
    let layout = layer(&job).map_err(|fault| fault.to_string())?;
    Ok(Laid { width, garment, job, layout, names })
}

/// The cut line turned so that the warp runs along the strip, which the nest calls x.
fn nest_piece(piece: &garment::Piece, mirror: bool, how_many: usize) -> nest::Piece {
    let side = if mirror { -1.0 } else { 1.0 };
    let cut = geom::flatten(&piece.cut, geom::FLATTEN).into_iter().next().unwrap_or_default();
    let outline = geom::thinned(&cut, CLOSE).into_iter().map(|p| kurbo::Point::new(p.y, side * p.x)).collect();
    let mut laid = nest::Piece::new(outline);
    laid.how_many = how_many;
    if piece.one_way {
        laid.turns = nest::Turns::ONE_WAY;
    }
    laid
}

/// What the draft says of openings, girths and usual masses.
fn numbers(inputs: &mut Inputs, plan: &Plan, wish: &Wish, garment: &Garment) {
    let measures = garment::measures(garment);
    let how_many = Q::si(f64::from(garment.how_many));
    inputs.exact(&id::HOW_MANY, how_many, How::Given, Some("garment.how_many"));
    let (least, greatest) = usual_mass(wish.kind);
    inputs.exact(&id::LEAST_FIRMNESS, Q::si(least_firmness(wish.kind)), How::Assumed, None);
    inputs.exact(&id::LEAST_MASS, Q::new(least, &G_M2), How::Assumed, None);
    inputs.exact(&id::GREATEST_MASS, Q::new(greatest, &G_M2), How::Assumed, None);
    if let Some(opening) = measures.neck_opening {
        inputs.exact(&id::NECK_OPENING, opening, How::Decided, None);
        inputs.exact(&id::SLIT_MADE, measures.slit.unwrap_or(Q::si(0.0)), How::Decided, None);
        body(inputs, plan, wish, &id::HEAD, Part::Head, "garment.body.head");
    }
    if let Some(girth) = measures.chest {
        body(inputs, plan, wish, &id::CHEST, Part::Chest, "garment.body.chest");
        if let Some(chest) = inputs.given.get(&id::CHEST) {
            let how = if wish.ease.chest.is_some() { How::Given } else { How::Decided };
            inputs.exact(&id::CHEST_EASE, girth - chest, how, Some("garment.ease.chest"));
        }
    }
    if let Some(mismatch) = sleeve_mismatch(garment) {
        inputs.exact(&id::SLEEVE_MISMATCH, Q::new(mismatch, &MM), How::Decided, None);
    }
}

/// A body measure: stated, or from the usual size that stands in.
fn body(
    inputs: &mut Inputs,
    plan: &Plan,
    wish: &Wish,
    key: &crate::formulas::registry::Key<Length>,
    part: Part,
    path: &'static str,
) {
    if !inputs.state(plan, key, path)
        && let Ok(figure) = garment::Figure::of(&wish.body)
    {
        inputs.exact(key, Q::new(figure.get(part), &MM), How::Assumed, None);
    }
}

/// Greatest difference of the two sides of an armhole seam, mm.
fn sleeve_mismatch(garment: &Garment) -> Option<f64> {
    let armholes = garment.seams.iter().filter(|seam| seam.name.contains("armhole"));
    armholes
        .map(|seam| {
            let (a, b) = garment.seam_lengths(seam);
            a - b
        })
        .max_by(|a, b| a.abs().total_cmp(&b.abs()))
}

/// A fault of the draft, at the plan key it is about.
fn diagnostic(plan: &Plan, fault: &garment::Fault) -> Diagnostic {
    let known = |key: &&String| crate::plan::keys::TABLE.key(key).is_some();
    let span = fault.keys.iter().filter(known).find_map(|key| plan.span(key)).or(plan.span("garment.kind"));
    let at = fault.keys.first().map(|key| format!("change `{key}`"));
    let diagnostic = Diagnostic::error(fault.code, fault.text.clone()).at(span);
    match at {
        Some(help) => diagnostic.help(help),
        None => diagnostic,
    }
}

/// The wish of a plan.
fn wish(plan: &Plan, found: &mut Vec<Diagnostic>) -> Option<Wish> {
    let straight = plan.choice("garment.cut") == Some("straight");
    let kind = match plan.choice("garment.kind")? {
        "tee" if straight => Kind::TeeStraight,
        "tee" => Kind::TeeShaped,
        "tote" => Kind::Tote,
        "apron" => Kind::Apron,
        "towel" => Kind::Towel,
        "scarf" => Kind::Scarf,
        _ => Kind::Pieces,
    };
    let length = |path: &str| plan.quantity::<Length>(path).map(|stated| stated.middle);
    let mut wish = Wish::of(kind);
    wish.how_many = plan.whole("garment.how_many").unwrap_or(1);
    wish.body = measured(plan);
    wish.ease = EaseWish {
        chest: length("garment.ease.chest"),
        hip: length("garment.ease.hip"),
        upper_arm: length("garment.ease.upper_arm"),
    };
    wish.length = length("garment.length");
    wish.sleeve = match (length("garment.sleeve.length"), plan.choice("garment.sleeve.length")) {
        (Some(length), _) => SleeveWish::At(length),
        (None, Some("long")) => SleeveWish::Long,
        _ => SleeveWish::Short,
    };
    wish.neck = neck(plan);
    wish.sew = sew(plan);
    wish.gusset = length("garment.gusset");
    wish.slit = length("garment.neck.slit");
    wish.facing = length("garment.facing");
    wish.cuff = length("garment.sleeve.opening");
    wish.fringe = length("garment.finished.fringe");
    if let Some(left) = plan.quantity::<Ratio>("cloth.later_shrink") {
        wish.residual_shrink = left.middle;
    }
    if let (Some(width), Some(long)) = (length("garment.finished.width"), length("garment.finished.length")) {
        wish.finished = Some(Finished { width, length: long, depth: length("garment.finished.depth") });
    }
    wish.handles = HandleWish { length: length("garment.handles.length"), width: length("garment.handles.width") };
    wish.lining = plan.flag("garment.lining").unwrap_or(false);
    wish.pocket = plan.flag("garment.pocket").unwrap_or(false);
    wish.one_way = plan.flag("garment.one_way").unwrap_or(false);
    wish.pieces = plan.pieces().iter().filter_map(|piece| free_piece(plan, piece, found)).collect();
    wish.print = print(plan);
    wish.inches = plan.style() == Style::Inch;
    Some(wish)
}

fn measured(plan: &Plan) -> Body {
    let mut body = Body::default();
    if let Some((group, percentile)) = plan.usual_size() {
        body.like = Some(group);
        body.percentile = Some(percentile);
    }
    for part in Part::ALL {
        if let Some(stated) = plan.quantity::<Length>(&format!("garment.body.{}", part.describe().key)) {
            body.measured.insert(part, stated.middle);
        }
    }
    body
}

fn neck(plan: &Plan) -> NeckWish {
    let length = |path: &str| plan.quantity::<Length>(path).map(|stated| stated.middle);
    let style = plan.choice("garment.neck.style");
    NeckWish {
        style: NeckStyle::ALL.into_iter().find(|neck| Some(neck.word()) == style),
        width: length("garment.neck.width"),
        front_depth: length("garment.neck.front_depth"),
        back_depth: length("garment.neck.back_depth"),
    }
}

fn sew(plan: &Plan) -> SewWish {
    let length = |path: &str| plan.quantity::<Length>(path).map(|stated| stated.middle);
    let kind = plan.choice("garment.seam.kind");
    SewWish {
        seams: SeamKind::ALL.into_iter().find(|seam| Some(seam.word()) == kind).unwrap_or_default(),
        allowance: length("garment.seam.allowance"),
        hem: length("garment.hem"),
        // decided before the cloth is: a hand-woven cloth frays until it is proved close
        open_cloth: true,
    }
}

fn print(plan: &Plan) -> Option<PrintWish> {
    let width = plan.quantity::<Length>("print.width")?.middle;
    let shape = super::print::facts(plan).map_or(1.0, |facts| facts.shape);
    let height = plan.quantity::<Length>("print.height").map_or(width * shape, |height| height.middle);
    let below = plan.quantity::<Length>("print.place.below_neck").map(|below| below.middle);
    let across = plan.quantity::<Length>("print.place.across").map(|across| across.middle);
    Some(PrintWish {
        piece: plan.text("print.place.piece").unwrap_or("front").to_string(),
        width,
        height,
        below,
        across,
    })
}

fn free_piece(plan: &Plan, piece: &PieceWish, found: &mut Vec<Diagnostic>) -> Option<FreePiece> {
    let outline = match (&piece.outline, piece.width, piece.length) {
        (Some(name), _, _) => {
            let bytes = plan.file(name)?.to_vec();
            if name.to_lowercase().ends_with(".dxf") { Outline::Dxf(bytes) } else { Outline::Svg(bytes) }
        }
        (None, Some(width), Some(length)) => Outline::Rectangle { width: width.middle, length: length.middle },
        _ => {
            let words = format!("piece `{}` has neither an outline nor a width and a length", piece.name);
            found.push(Diagnostic::error("piece", words).at(Some(piece.span.clone())));
            return None;
        }
    };
    let allowance = match (&outline, piece.allowance) {
        (_, Some(stated)) => Some(stated.middle),
        (Outline::Rectangle { .. }, None) => Some(Q::new(garment::rules::ALLOWANCE, &MM)),
        _ => None,
    };
    Some(FreePiece { name: piece.name.clone(), outline, how_many: piece.how_many, pairs: piece.pairs, allowance })
}
