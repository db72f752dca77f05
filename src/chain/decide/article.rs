//! The article of a plan: its wish, its draft, and the lay as a table over widths. Drafting and laying happen here and nowhere else; a trial
//! reads the table.

use super::With;
use super::inputs::{How, Inputs};
use super::stripes::Stripes;
use crate::chain::keys as id;
use crate::chain::lay::{Row, SAME_SEAMS, Table};
use crate::chain::wishes::Width;
use crate::diag::Diagnostic;
use crate::garment::{self, Garment, Kind, Wish};
use crate::plan::Plan;
use crate::trade::body::Part;
use crate::units::*;
use crate::weave::ColourOrder;
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
    /// Length the same pieces take where stripes need not meet, mm; none where they are not matched.
    pub unmatched: Option<f64>,
    /// For each piece of the job, its place in the garment.
    pub names: Vec<usize>,
}

impl Laid {
    /// The pick of the weft's colours that this length of cloth begins with, counted from 0: so that match points lie on the middle of
    /// their stripe.
    pub fn first_pick(&self, stripes: &Stripes, order: &ColourOrder) -> usize {
        let held = self.layout.placements.iter().find_map(|p| Some(p.put(self.job.pieces[p.piece].match_at?).x));
        let (Some(way), Some(held)) = (stripes.along, held) else { return 0 };
        let picks = (way.middle.get(&MM) - held) / way.repeat.get(&MM) * order.repeat() as f64;
        picks.round().rem_euclid(order.repeat() as f64) as usize
    }
}

/// The draft and every width it was laid on, narrowest first.
#[derive(Clone, Debug)]
pub struct Article {
    pub wish: Wish,
    pub garment: Garment,
    /// Stripes that meet at the seams.
    pub stripes: Option<Stripes>,
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
        let stripes = self.stripes.as_ref();
        let others: Vec<Q<Length>> = candidates(&self.garment, stripes, greatest).into_iter().filter(open).collect();
        let plain = |width: Q<Length>| lay_by(&self.garment, width, stripes, &nest::bottom_left).ok();
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
                for_match: laid.unmatched.map(|plain| Q::new((laid.layout.length - plain).max(0.0), &MM)),
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
            Effort::Quick => (2, nest::Budget { evaluations: 6_000, workers: 2, seed: 1 }),
            Effort::Wide => (10, nest::Budget { evaluations: 6_000, workers: 2, seed: 1 }),
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
    wish: Wish,
    (greatest, stripes, with): (Q<Length>, Option<Stripes>, &With),
    found: &mut Vec<Diagnostic>,
) -> Option<(Article, Width)> {
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
        None => likeliest(&garment, stripes.as_ref(), reach(inputs, greatest), with.effort.budget().0),
    };
    let budget = with.effort.budget().1;
    let search = |job: &nest::Job| match with.kept {
        Some(kept) => kept.solve(job, &budget, &never_stop),
        None => nest::solve(job, &budget, &never_stop),
    };
    let tried: Vec<_> =
        widths.into_par_iter().map(|width| lay_by(&garment, width, stripes.as_ref(), &search)).collect();
    let (laid, refused): (Vec<_>, Vec<_>) = tried.into_iter().partition(Result::is_ok);
    let laid: Vec<Laid> = laid.into_iter().flatten().collect();
    if laid.is_empty() {
        // where no width was worth a try, the loom's own says why
        let last = || lay_by(&garment, width.unwrap_or(greatest), stripes.as_ref(), &search).err();
        let none = || "No width of cloth that this loom weaves holds the pieces.".to_string();
        let why = refused.into_iter().find_map(Result::err).or_else(last).unwrap_or_else(none);
        found.push(Diagnostic::error("lay", why).at(plan.span("cloth.width").or(plan.span("garment.kind"))));
        return None;
    }
    if let Some(stripes) = &stripes {
        super::stripes::uneven(stripes, &garment, plan, found);
    }
    numbers(inputs, plan, &wish, &garment);
    if plan.quantity::<Length>("warp.between").is_some() && inputs.given.get(&id::WARP_BETWEEN).is_none() {
        let words = "The pieces of this article are laid on one length of cloth, so nothing is left unwoven between.";
        found.push(Diagnostic::warning("one-length", words).at(plan.span("warp.between")));
    }
    let width = width.map_or(Width::Open, Width::Fixed);
    Some((Article { wish, garment, stripes, laid: Arc::new(laid) }, width))
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
fn candidates(garment: &Garment, stripes: Option<&Stripes>, greatest: Q<Length>) -> Vec<Q<Length>> {
    let lines = stripes.and_then(|stripes| stripes.repeat().across);
    let mut sizes: Vec<f64> = Vec::new();
    let whole: Vec<&garment::Piece> = garment.pieces.iter().filter(|p| p.cloth == garment::Cloth::Main).collect();
    for (at, piece) in whole.iter().enumerate() {
        sizes.push(side_by_side(&[piece], lines));
        for other in &whole[at..] {
            sizes.push(side_by_side(&[piece, other], lines));
            if lines.is_some() {
                sizes.push(side_by_side(&[other, piece], lines));
            }
        }
    }
    let widest = whole.iter().map(|piece| piece.width()).fold(0.0, f64::max);
    // the widest in two, three and four, each with a seam on every cut side, and room to meet the stripes
    let room = lines.map_or(0.0, |lines| lines.every);
    sizes.extend([2.0, 3.0, 4.0].map(|parts| widest / parts + 2.0 * garment.allowance * (parts - 1.0) / parts + room));
    let limit = greatest.get(&MM);
    // to the next whole millimetre: nobody sets a finished width finer
    let mut sizes: Vec<f64> =
        sizes.into_iter().map(|size| (size - 1e-6).ceil()).filter(|size| *size <= limit).collect();
    sizes.push((limit - 0.5).floor());
    sizes.sort_by(|a, b| b.total_cmp(a));
    sizes.dedup();
    sizes.into_iter().map(|mm| Q::new(mm, &MM)).collect()
}

/// Least width of cloth, mm, on which these pieces lie side by side, the first at the selvedge, each on the stripes it must match.
fn side_by_side(pieces: &[&garment::Piece], lines: Option<nest::Lines>) -> f64 {
    pieces.iter().fold(0.0, |edge, piece| {
        let (Some(lines), Some(on)) = (lines, piece.stripes) else { return edge + piece.width() };
        let before = on.at.x - piece.bounds().x0;
        let line = lines.from + ((edge + before - lines.from) / lines.every - 1e-9).ceil() * lines.every;
        line - before + piece.width()
    })
}

/// Whether each piece by itself finds a place across the cloth where its stripes match.
fn meets(garment: &Garment, width: Q<Length>, stripes: Option<&Stripes>) -> bool {
    let Some(lines) = stripes.and_then(|stripes| stripes.repeat().across) else { return true };
    let mut main = garment.pieces.iter().filter(|piece| piece.cloth == garment::Cloth::Main);
    main.all(|piece| side_by_side(&[piece], Some(lines)) <= width.get(&MM) + nest::CLEARANCE)
}

/// Pieces split for cloth of one width; where they would be as wide as the cloth and miss its stripes, narrower.
fn cut_for(garment: &Garment, width: Q<Length>, stripes: Option<&Stripes>) -> Result<Garment, Vec<garment::Fault>> {
    let cut = garment::on_cloth(garment, width)?;
    match stripes.and_then(|stripes| stripes.across) {
        Some(way) if !meets(&cut, width, stripes) => {
            // where that leaves no cloth to cut from, the lay says which piece finds no place
            Ok(garment::on_striped_cloth(garment, width, way.repeat).unwrap_or(cut))
        }
        _ => Ok(cut),
    }
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
fn likeliest(
    garment: &Garment,
    stripes: Option<&Stripes>,
    [sure, hoped]: [Q<Length>; 2],
    most: usize,
) -> Vec<Q<Length>> {
    let whole = garment::measures(garment);
    let judged = |width: Q<Length>| {
        let fits = width.to_si() >= whole.widest.to_si() && meets(garment, width, stripes);
        let (seams, long) = if fits {
            (whole.seams, shelves(garment, stripes, width.get(&MM)))
        } else {
            let split = cut_for(garment, width, stripes).ok()?;
            (garment::measures(&split).seams, shelves(&split, stripes, width.get(&MM)))
        };
        // what no loom weaves counts with every metre
        Some(Row { width, length: Q::new(long, &MM), area: Q::si(0.0), seams, widest: width, for_match: None })
    };
    let waste = Q::new(LOOM_WASTE, &MM);
    let mut widths: Vec<Q<Length>> = candidates(garment, stripes, hoped).into_iter().chain([sure]).collect();
    widths.sort_by(|a, b| b.to_si().total_cmp(&a.to_si()));
    // Narrower cloth has no fewer seams, and to split pieces takes long: enough is seen once more seams begin.
    let (mut open, mut fewest): (Vec<Row>, f64) = (Vec::new(), f64::INFINITY);
    for row in widths.into_iter().filter_map(judged) {
        let seams = row.seams.to_si();
        if row.width.to_si() <= sure.to_si() {
            if open.len() >= most && seams > fewest * SAME_SEAMS {
                break;
            }
            fewest = fewest.min(seams);
        }
        open.push(row);
    }
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

/// Length of cloth, mm, when the bounds of all pieces stand on shelves, the longest first; whole repeats where stripes are matched.
fn shelves(garment: &Garment, stripes: Option<&Stripes>, width: f64) -> f64 {
    let repeat = stripes.map_or(nest::Repeat::default(), Stripes::repeat);
    let whole = |side: f64, every: Option<f64>| every.map_or(side, |every| (side / every).ceil() * every);
    let main = garment.pieces.iter().filter(|piece| piece.cloth == garment::Cloth::Main);
    let mut sizes: Vec<(f64, f64)> = main
        .flat_map(|piece| {
            let held = piece.stripes.is_some();
            let long = whole(piece.length(), repeat.along.filter(|_| held));
            let wide = whole(piece.width(), repeat.across.map(|lines| lines.every).filter(|_| held)).min(width);
            std::iter::repeat_n(
                (long, if held { wide } else { piece.width() }),
                (piece.how_many * garment.how_many) as usize,
            )
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
    lay_by(whole, width, None, &|job| nest::solve(job, budget, stop))
}

/// A way to lay a job.
type Layer<'a> = &'a (dyn Fn(&nest::Job) -> Result<nest::Layout, nest::Fault> + Sync);

fn lay_by(whole: &Garment, width: Q<Length>, stripes: Option<&Stripes>, layer: Layer) -> Result<Laid, String> {
    let words =
        |faults: Vec<garment::Fault>| faults.iter().map(|fault| fault.text.clone()).collect::<Vec<_>>().join(" ");
    let garment = cut_for(whole, width, stripes).map_err(words)?;
    let (names, job) = job(&garment, width, stripes);
    let layout = layer(&job).map_err(|fault| in_words(&fault, &garment, &names))?;
    let plain = stripes.map(|_| layer(&self::job(&garment, width, None).1));
    let unmatched = plain.and_then(Result::ok).map(|layout| layout.length);
    Ok(Laid { width, garment, job, layout, unmatched, names })
}

/// Why a job cannot be laid, for a person, with the name of the piece.
fn in_words(fault: &nest::Fault, garment: &Garment, names: &[usize]) -> String {
    let nest::Fault::NoMatch { piece, every, strip } = fault else { return fault.to_string() };
    let say = garment::Say { inches: garment.inches };
    format!(
        "On cloth {} wide there is no place for the {} where its stripes meet those of the other pieces: they repeat every {} across the \
         cloth only. Take a shorter order of colours, wider cloth, or `garment.match_stripes` out.",
        say.length(*strip),
        garment.pieces[names[*piece]].name,
        say.length(*every)
    )
}

/// The pieces of the main cloth as the nest lays them, with the place of each in the garment.
fn job(garment: &Garment, width: Q<Length>, stripes: Option<&Stripes>) -> (Vec<usize>, nest::Job) {
    let (mut names, mut pieces) = (Vec::new(), Vec::new());
    for (at, piece) in garment.pieces.iter().enumerate().filter(|(_, piece)| piece.cloth == garment::Cloth::Main) {
        let copies = (piece.how_many * garment.how_many) as usize;
        // a left and a right are cut as each other's mirror image
        let mirrored = if piece.pairs && !piece.symmetric { copies / 2 } else { 0 };
        for (mirror, how_many) in [(false, copies - mirrored), (true, mirrored)] {
            if how_many > 0 {
                names.push(at);
                pieces.push(nest::Piece { how_many, ..nest_piece(piece, mirror, stripes) });
            }
        }
    }
    let repeat = stripes.map_or(nest::Repeat::default(), Stripes::repeat);
    (names, nest::Job { repeat, ..nest::Job::new(width.get(&MM), pieces) })
}

/// The cut line turned so that the warp runs along the strip, which the nest calls x.
fn nest_piece(piece: &garment::Piece, mirror: bool, stripes: Option<&Stripes>) -> nest::Piece {
    let side = if mirror { -1.0 } else { 1.0 };
    let cut = geom::flatten(&piece.cut, geom::FLATTEN).into_iter().next().unwrap_or_default();
    let along = |p: kurbo::Point| kurbo::Point::new(p.y, side * p.x);
    let mut laid = nest::Piece::new(geom::thinned(&cut, CLOSE).into_iter().map(along).collect());
    let held = stripes.zip(piece.stripes);
    laid.match_at = held.map(|(_, on)| along(on.at));
    // stripes that are not alike from both ends show which way up a piece was cut
    if piece.one_way || held.is_some_and(|(stripes, _)| !stripes.even()) {
        laid.turns = nest::Turns::ONE_WAY;
    }
    laid
}

/// What is usual for the article.
pub(super) fn usual(inputs: &mut Inputs, kind: Kind) {
    let (least, greatest) = usual_mass(kind);
    inputs.exact(&id::LEAST_FIRMNESS, Q::si(least_firmness(kind)), How::Assumed, None);
    inputs.exact(&id::LEAST_MASS, Q::new(least, &G_M2), How::Assumed, None);
    inputs.exact(&id::GREATEST_MASS, Q::new(greatest, &G_M2), How::Assumed, None);
}

/// What the draft says of openings, girths and usual masses.
fn numbers(inputs: &mut Inputs, plan: &Plan, wish: &Wish, garment: &Garment) {
    let measures = garment::measures(garment);
    let how_many = Q::si(f64::from(garment.how_many));
    inputs.exact(&id::HOW_MANY, how_many, How::Given, Some("garment.how_many"));
    usual(inputs, wish.kind);
    // only articles that lie one behind the other, as wide as the cloth, can be panels of their own
    if matches!(wish.kind, Kind::Towel | Kind::Scarf) {
        inputs.state(plan, &id::WARP_BETWEEN, "warp.between");
    }
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
