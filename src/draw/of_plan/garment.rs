//! Garment and cloth-cutting drawings of a plan.

use kurbo::{BezPath, Point};
use std::sync::Arc;

use crate::chain::decide::article::Laid;
use crate::chain::decide::cloth::Woven;
use crate::chain::decide::stripes::{self, Stripes, Way};
use crate::chain::keys as id;
use crate::draw::sheet::Sheet;
use crate::draw::sheets::{lay, pattern, sewing, widths};
use crate::draw::title::Paper;
use crate::garment::{Kind, Mark, MarkKind};
use crate::nest::Repeat;
use crate::outlook::{self, Outcome};
use crate::units::{CM, HOUR, Length, MM, Q, show};
use crate::weave::ColourOrder;
use crate::weave::colour::Run;

/// The lay on the width that is woven.
fn laid(outcome: &Outcome) -> Result<&Laid, String> {
    let width = outcome.get(&id::LAY_WIDTH).unwrap_or(Q::si(0.0));
    outcome.brief.article.on(width).ok_or_else(|| "No width of cloth holds the pieces of this plan.".to_string())
}

/// Names of the lay's pieces, as in the pattern; the second of a pair is cut turned over.
fn names(laid: &Laid) -> Vec<String> {
    let name = |(i, at): (usize, &usize)| {
        let name = &laid.garment.pieces[*at].name;
        if laid.names[..i].contains(at) { format!("{name}, turned over") } else { name.clone() }
    };
    laid.names.iter().enumerate().map(name).collect()
}

/// The lay.
pub(super) fn lay(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let laid = laid(outcome)?;
    let names = names(laid);
    let stripes = striped(outcome, laid);
    let style = outcome.brief.style;
    let lay = lay::Lay { job: &laid.job, layout: &laid.layout, names: &names, stripes: stripes.as_ref(), style };
    Ok(vec![lay::sheet(&lay, Paper::A4)])
}

/// Stripes as they lie under the pieces, where these are matched.
fn striped(outcome: &Outcome, laid: &Laid) -> Option<lay::Stripes> {
    let (brief, stripes) = (&outcome.brief, outcome.brief.article.stripes?);
    let Woven { colours, warp_order, weft_order, .. } = &brief.woven;
    let bands = |order: &ColourOrder, begin: usize, way: Option<Way>, far: f64| {
        let spacing = way.map_or(far, |way| way.repeat.get(&MM) / order.repeat() as f64);
        let threads = (far / spacing).ceil() as usize;
        let mut at = 0.0;
        let band = |run: Run| {
            let from = at;
            at += run.threads as f64 * spacing;
            lay::Band { from, to: at, rgb: colours[run.colour].rgb }
        };
        order.begun(begin).written_out(threads).into_iter().map(band).collect()
    };
    let begin = laid.first_pick(&stripes, weft_order);
    Some(lay::Stripes {
        warp: bands(warp_order, 0, stripes.across, laid.job.strip.width),
        weft: bands(weft_order, begin, stripes.along, laid.layout.length),
        marks: laid.job.pieces.iter().map(|piece| stripes::mark(piece, &laid.job.repeat)).collect(),
        words: words(outcome, laid, &stripes, &weft_order.begun(begin)),
    })
}

/// What the maker must know of the stripes: what meets where, how the weft begins, what it costs, and that the cloth is the judge.
fn words(outcome: &Outcome, laid: &Laid, stripes: &Stripes, weft: &ColourOrder) -> String {
    let (woven, style) = (&outcome.brief.woven, outcome.brief.style);
    let said = |length: Q<Length>| show::of(length, &CM, style);
    let place = |way: Way, of: &str| {
        let colour = &woven.colours[way.colour].name;
        format!("the middle of a {colour} stripe of the {of}, which repeats every {}", said(way.repeat))
    };
    let warp = stripes.across.map(|way| place(way, "warp"));
    let places: Vec<String> = warp.into_iter().chain(stripes.along.map(|way| place(way, "weft"))).collect();
    let mut words = format!("Stripes meet at the seams: every mark lies on {}.", places.join(" and on "));
    if stripes.across.is_some_and(|way| !way.even) {
        words += " The order of the warp begins at the lower selvedge.";
    }
    if stripes.along.is_some() {
        let runs: Vec<String> = weft
            .written_out(weft.repeat())
            .iter()
            .take(FIRST_RUNS)
            .map(|run| format!("{} {}", run.threads, woven.colours[run.colour].name))
            .collect();
        words +=
            &format!(" Begin the weft of this length with {}, and go on in the order of the colours.", runs.join(", "));
    }
    if let Some(plain) = laid.unmatched {
        words += &match Q::new((laid.layout.length - plain).max(0.0), &MM) {
            none if none.get(&MM) < 0.5 => " The match takes no more cloth.".to_string(),
            more => format!(" The match takes {} more of the cloth.", said(more)),
        };
    }
    words
        + " Lay each piece by the stripes it meets, not by the ruler: woven cloth repeats a little otherwise than planned."
}

/// Runs of the weft's order that tell where in it to begin.
const FIRST_RUNS: usize = 3;

/// No loom of this project is wider, m.
const ANY_LOOM: f64 = 10.0;

/// Cloth over the width.
pub(super) fn widths(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let chosen = laid(outcome)?.width;
    let brief = &outcome.brief;
    if matches!(brief.article.wish.kind, Kind::Towel | Kind::Scarf) {
        return Err("This article is as wide as its cloth, so there is no width to choose.".into());
    }
    // where no loom is stated, half as much again as what is woven
    let reach = brief.wishes.greatest_width(&brief.given).to_si();
    let greatest = if reach < ANY_LOOM { reach } else { chosen.to_si() * 1.5 };
    let swept = brief.article.swept(Q::si(greatest.max(chosen.to_si())));
    let table = Arc::new(swept.table());
    let hours = |width: Q<Length>| outlook::widths::hours(outcome, &table, width).map(|hours| hours.get(&HOUR));
    let rows: Vec<widths::Width> = table
        .rows()
        .iter()
        .map(|row| widths::Width {
            width: row.width.get(&MM),
            // the shortest of the lays that are no wider
            length: table.at(row.width).unwrap_or(row).length.get(&MM),
            hours: hours(row.width),
            // on cloth a hair narrower the next narrower lay is kept
            hours_before: hours(row.width * (1.0 - 1e-6)),
        })
        .collect();
    let chosen = rows.iter().position(|row| (row.width - chosen.get(&MM)).abs() < 0.5).unwrap_or(0);
    let widths = widths::Widths { rows: &rows, chosen, what: "finished width", style: outcome.brief.style };
    Ok(vec![widths::sheet(&widths, Paper::A4)])
}

/// The paper pattern of one article, cut for the width that is woven.
pub(super) fn pattern(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let laid = laid(outcome)?;
    if outcome.brief.article.stripes.is_none() {
        return Ok(vec![pattern::sheet(&laid.garment)]);
    }
    let mut garment = laid.garment.clone();
    for (at, piece) in laid.names.iter().zip(&laid.job.pieces).rev() {
        // of a pair the one that is not turned over comes last, and stays
        let drawn = &mut garment.pieces[*at].marks;
        drawn.retain(|mark| mark.kind != MarkKind::Stripe);
        if let Some(spot) = stripes::mark(piece, &laid.job.repeat) {
            drawn.push(stripe_mark(Point::new(spot.y, spot.x), &laid.job.repeat));
        }
    }
    Ok(vec![pattern::sheet(&garment)])
}

/// Half the length of a mark that lies on the stripes, mm.
const STRIPE_MARK: f64 = 10.0;

/// A line along each way the stripes are set.
fn stripe_mark(at: Point, repeat: &Repeat) -> Mark {
    let mut path = BezPath::new();
    if repeat.along.is_some() {
        path.move_to((at.x - STRIPE_MARK, at.y));
        path.line_to((at.x + STRIPE_MARK, at.y));
    }
    if repeat.across.is_some() {
        path.move_to((at.x, at.y - STRIPE_MARK));
        path.line_to((at.x, at.y + STRIPE_MARK));
    }
    Mark { kind: MarkKind::Stripe, path, words: "on a stripe".into() }
}

/// The sewing order; the mass of the cloth chooses the needle.
pub(super) fn sewing(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    Ok(sewing::pages(&laid(outcome)?.garment, outcome.get(&id::CLOTH_MASS), Paper::A4))
}
