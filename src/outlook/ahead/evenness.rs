//! Evenness of a plan's yarn: the chart of its bobbins, which go to the warp and which to the weft for the lengths this plan needs, and
//! in which order they are taken so that no stripe shows.

use crate::chain::decide::Brief;
use crate::chain::keys as id;
use crate::chain::mode::Numbers;
use crate::chain::stages::run;
use crate::measure::evenness::{Bobbin, Chart, Order, Shares, chart, interleave, share_out};
use crate::measure::samples::{Samples, Use};
use crate::units::{Length, Q};

/// Bobbins in hand at once: two shuttles, or two balls at the warping board.
const IN_HAND: usize = 2;

/// The bobbins of a plan.
#[derive(Clone, Debug)]
pub struct Evenness {
    pub chart: Chart,
    pub shares: Shares,
    /// Length of one end, and of one pick.
    pub end: Q<Length>,
    pub pick: Q<Length>,
    /// Orders; none where the bobbins hold no whole thread.
    pub warp: Option<Order>,
    pub weft: Option<Order>,
}

/// The bobbins that were weighed; none before the first. `brief` is the plan as it stands.
pub fn evenness(brief: &Brief, samples: &Samples) -> Option<Evenness> {
    if samples.bobbins.is_empty() {
        return None;
    }
    let mut numbers = Numbers::default();
    run(&brief.given, &mut numbers);
    let (warp, weft) = (numbers.get(&id::WARP_YARN)?, numbers.get(&id::WEFT_YARN)?);
    let end = samples.warp.map(|warp| warp.length).or(numbers.get(&id::WARP_LENGTH))?;
    let pick = numbers.get(&id::PICK_LENGTH)?;
    let shares = put_to(samples, warp, weft).unwrap_or_else(|| share_out(&samples.bobbins, warp, weft));
    Some(Evenness {
        chart: chart(&samples.bobbins),
        warp: interleave(&shares.warp, end, IN_HAND),
        weft: interleave(&shares.weft, pick, IN_HAND),
        shares,
        end,
        pick,
    })
}

/// With the warp on, the bobbins are where the maker put them.
fn put_to(samples: &Samples, warp: Q<Length>, weft: Q<Length>) -> Option<Shares> {
    if !samples.is_warped() || samples.put_to.is_empty() {
        return None;
    }
    let part = |wanted: Option<Use>| {
        let mut list: Vec<Bobbin> =
            samples.bobbins.iter().filter(|b| samples.put_to.get(&b.name).copied() == wanted).copied().collect();
        list.sort_by(|a, b| a.count.to_si().total_cmp(&b.count.to_si()).then(a.name.cmp(&b.name)));
        list
    };
    let enough = |list: &[Bobbin], need: Q<Length>| list.iter().map(|b| b.length.to_si()).sum::<f64>() >= need.to_si();
    let (on_warp, on_weft, aside) = (part(Some(Use::Warp)), part(Some(Use::Weft)), part(None));
    let (warp_full, weft_full) = (enough(&on_warp, warp), enough(&on_weft, weft));
    Some(Shares { warp: on_warp, weft: on_weft, aside, warp_full, weft_full })
}

/// What to do with the bobbins, a sentence each.
pub fn words(found: &Evenness) -> Vec<String> {
    let names = |list: &[Bobbin]| {
        let mut names: Vec<u32> = list.iter().map(|b| b.name).collect();
        names.sort_unstable();
        names.iter().map(u32::to_string).collect::<Vec<_>>().join(", ")
    };
    let mut out = Vec::new();
    let shares = &found.shares;
    let short = |full: bool| if full { "" } else { " (not yet enough)" };
    for (place, list, full) in [
        ("Warp", &shares.warp, shares.warp_full),
        ("Weft", &shares.weft, shares.weft_full),
        ("Aside", &shares.aside, true),
    ] {
        if !list.is_empty() {
            out.push(format!("{place}: bobbin {}{}.", names(list), short(full)));
        }
    }
    for (place, order) in [("Warp", &found.warp), ("Weft", &found.weft)] {
        out.extend(order.as_ref().map(|order| order_words(place, order)));
    }
    out
}

/// How to take bobbins so that stripes hide.
fn order_words(place: &str, order: &Order) -> String {
    let group = |names: &Vec<u32>| names.iter().map(u32::to_string).collect::<Vec<_>>().join(" and ");
    let groups: Vec<String> = order.groups.iter().map(group).collect();
    let turn = if order.groups.iter().any(|group| group.len() > 1) { ", in turn thread by thread" } else { "" };
    format!(
        "{place} order: {}{turn}. Greatest step between neighbouring stripes {:.0} %, one after another {:.0} %; an eye sees about 3.",
        groups.join(", then "),
        100.0 * order.step.to_si(),
        100.0 * order.step_as_spun.to_si()
    )
}
