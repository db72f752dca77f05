//! Stripes of the finished cloth. Sett and picks follow from the yarn and the firmness alone and never from the lay, so how far apart
//! stripes repeat is known before anything is laid.

use super::With;
use super::cloth::Woven;
use super::inputs::{How, Inputs};
use crate::chain::keys as id;
use crate::chain::lay::Table;
use crate::chain::settle::{Open, finished_spacings};
use crate::chain::wishes::Width;
use crate::diag::Diagnostic;
use crate::garment::{self, Stripe};
use crate::geom::{self, Point, Whereabouts};
use crate::nest;
use crate::plan::Plan;
use crate::units::*;
use crate::weave::ColourOrder;

/// Stripes one way, on the finished cloth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Way {
    pub repeat: Q<Length>,
    /// From the order's first thread to the middle of the stripe that match points lie on.
    pub middle: Q<Length>,
    /// That stripe's place among the colours.
    pub colour: usize,
    /// The order is the same on both sides of that stripe.
    pub even: bool,
}

impl Way {
    fn of(order: &ColourOrder, spacing: f64) -> Way {
        let middle = order.middle();
        Way {
            repeat: Q::si(order.repeat() as f64 * spacing),
            middle: Q::si(middle.twice as f64 / 2.0 * spacing),
            colour: middle.colour,
            even: middle.even,
        }
    }
}

/// Stripes that are to meet at the seams.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stripes {
    /// How they repeat across the cloth: those of the warp.
    pub across: Option<Way>,
    /// How they repeat along the cloth: those of the weft.
    pub along: Option<Way>,
}

impl Stripes {
    /// They look the same from either end of the cloth, so a piece may be turned end for end.
    pub fn even(&self) -> bool {
        self.across.into_iter().chain(self.along).all(|way| way.even)
    }
    /// As the nest wants them.
    pub fn repeat(&self) -> nest::Repeat {
        let lines = |way: Way| nest::Lines { from: way.middle.get(&MM), every: way.repeat.get(&MM) };
        nest::Repeat { along: self.along.map(|way| way.repeat.get(&MM)), across: self.across.map(lines) }
    }
}

/// Which stripes the plan wants to meet: those it asks for and has.
pub fn wished(plan: &Plan, woven: &Woven, found: &mut Vec<Diagnostic>) -> garment::Stripes {
    let asked = plan.flag("garment.match_stripes").unwrap_or(false);
    let stripe = |order: &ColourOrder| match (asked && order.is_striped(), order.middle().even) {
        (false, _) => Stripe::None,
        (true, false) => Stripe::Uneven,
        (true, true) => Stripe::Even,
    };
    let wished = garment::Stripes { along_cloth: stripe(&woven.warp_order), across_cloth: stripe(&woven.weft_order) };
    if asked && wished == garment::Stripes::default() {
        let words = "There are no stripes to match: neither the warp nor the weft has more than one colour.";
        let help = "state `cloth.warp_colours` or `cloth.weft_colours`, or take `garment.match_stripes` out";
        found.push(Diagnostic::warning("no-stripes", words).at(plan.span("garment.match_stripes")).help(help));
    }
    wished
}

/// Stripes on the finished cloth, where some are to meet; none where its threads cannot be settled, which is told when the plan is. Its
/// threads are decided here ahead of the lay, from copies of what is known so far; the plan decides them again, the same, with the lay.
pub fn finished(
    plan: &Plan,
    wish: &garment::Wish,
    woven: &Woven,
    (inputs, open, with): (&Inputs, Open, &With),
) -> Option<Stripes> {
    let wished = wish.stripes;
    if wished == garment::Stripes::default() {
        return None;
    }
    let (mut inputs, mut open) = (Inputs { given: inputs.given.clone(), all: inputs.all.clone() }, open);
    super::article::usual(&mut inputs, wish.kind);
    let parts = super::machines::machines(&mut inputs, plan, &mut Vec::new());
    super::take_in(&mut inputs, &mut open, with.measured);
    let wishes = super::wishes(plan, &inputs, open, Width::Open, Table::default(), parts);
    let (given, _) = wishes.settle_threads().ok()?;
    let (ends, picks) = finished_spacings(&given);
    Some(Stripes {
        across: (wished.along_cloth != Stripe::None).then(|| Way::of(&woven.warp_order, ends)),
        along: (wished.across_cloth != Stripe::None).then(|| Way::of(&woven.weft_order, picks)),
    })
}

/// Says what stripes that are not alike from both sides cannot do on this garment.
pub fn uneven(stripes: &Stripes, garment: &garment::Garment, plan: &Plan, found: &mut Vec<Diagnostic>) {
    let mut warn = |path: &str, words: &str| {
        found.push(Diagnostic::warning("uneven-stripes", words).at(plan.span(path)));
    };
    if stripes.across.is_some_and(|way| !way.even) {
        let shoulders = garment.seams.iter().any(|seam| seam.name == "shoulder");
        let words = format!(
            "The order of the warp's colours is not the same from both sides, so left and right cannot mirror each other{}. Every piece \
             lies the same way up with its middle on the same place of the stripes.",
            if shoulders { ", and stripes do not meet at the shoulders" } else { "" }
        );
        warn("cloth.warp_colours", &words);
    }
    let folded = garment.pieces.iter().find(|piece| piece.stripes.is_some_and(|on| on.folded));
    if let (Some(way), Some(piece)) = (stripes.along, folded)
        && !way.even
    {
        let words = format!(
            "The order of the weft's colours is not the same from both ends: folded in the middle and sewn to itself, the {} cannot meet \
             its own stripes.",
            piece.name
        );
        warn("cloth.weft_colours", &words);
    }
}

/// Numbers of the colour orders, for the repeats that the chain works out.
pub fn orders(inputs: &mut Inputs, woven: &Woven) {
    let threads = |order: &ColourOrder| Q::si(order.repeat() as f64);
    if woven.warp_order.is_striped() {
        inputs.exact(&id::WARP_COLOURS, threads(&woven.warp_order), How::Given, Some("cloth.warp_colours"));
    }
    if woven.weft_order.is_striped() {
        inputs.exact(&id::WEFT_COLOURS, threads(&woven.weft_order), How::Given, Some("cloth.weft_colours"));
    }
}

/// Room about the mark of a piece, mm.
const ROOM: f64 = 15.0;
/// Places of a repeat that are tried for a mark, each way.
const PLACES: usize = 1_000;

/// Where a piece is marked that is matched, in its outline's own terms: the place of the repeat nearest its match point that lies well
/// inside it, off the middle, where its name stands, if it can.
pub fn mark(piece: &nest::Piece, repeat: &nest::Repeat) -> Option<Point> {
    let (at, bounds) = (piece.match_at?, geom::bounds(&piece.outline));
    // without stripes one way any place will do there
    let places = |at: f64, every: Option<f64>, (from, to): (f64, f64)| -> Vec<f64> {
        let Some(every) = every else { return vec![from + 0.25 * (to - from), from + 0.5 * (to - from)] };
        let first = at + ((from - at) / every).ceil() * every;
        let mut all: Vec<f64> = (0..PLACES).map(|k| first + k as f64 * every).take_while(|place| *place < to).collect();
        all.sort_by(|a, b| (a - at).abs().total_cmp(&(b - at).abs()));
        all
    };
    let columns = places(at.x, repeat.along, (bounds.x0, bounds.x1));
    let rows = places(at.y, repeat.across.map(|lines| lines.every), (bounds.y0, bounds.y1));
    let spots = || columns.iter().flat_map(|x| rows.iter().map(|y| Point::new(*x, *y)));
    let clear = |p: &Point, room: f64| {
        let edges = geom::edges(&piece.outline).map(|(a, b)| geom::distance_to_edge(*p, a, b));
        geom::whereabouts(&piece.outline, *p) == Whereabouts::Inside && edges.fold(f64::INFINITY, f64::min) > room
    };
    let aside = |p: &Point| (p.x - bounds.center().x).abs() > 0.3 * bounds.width();
    let first = spots().find(|p| aside(p) && clear(p, ROOM)).or_else(|| spots().find(|p| clear(p, ROOM)));
    first.or_else(|| spots().find(|p| clear(p, 0.0)))
}
