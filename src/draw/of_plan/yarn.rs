//! Drawings of the yarn that was spun: its evenness bobbin by bobbin, and the stripes that two orders would show. They need what the
//! log says; a plan alone has no bobbins.

use crate::draw::sheet::Sheet;
use crate::draw::sheets::evenness;
use crate::measure::evenness::Bobbin;
use crate::outlook::Outcome;
use crate::outlook::ahead::Evenness;

const NONE: &str = "No bobbin is in the log yet: log its mass, and 10 m of it weighed, with `log PLAN add bobbin bobbin=1 mass=… \
                    check_length=\"10 m\" check_mass=…`.";

fn found(outcome: &Outcome) -> Result<&Evenness, String> {
    outcome.ahead.as_ref().and_then(|ahead| ahead.evenness.as_ref()).ok_or_else(|| NONE.to_string())
}

/// The chart of the bobbins.
pub(super) fn bobbins(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let found = found(outcome)?;
    let list: Vec<Bobbin> = found.chart.marks.iter().map(|mark| mark.bobbin).collect();
    Ok(vec![evenness::bobbins(&list, &found.shares)])
}

/// Stripes along the warp and across the weft.
pub(super) fn stripes(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let found = found(outcome)?;
    let parts = [
        ("the warp", &found.shares.warp, found.end, &found.warp),
        ("the weft", &found.shares.weft, found.pick, &found.weft),
    ];
    let sheets: Vec<Sheet> = parts
        .into_iter()
        .filter_map(|(name, bobbins, thread, order)| Some(evenness::stripes(name, bobbins, thread, order.as_ref()?)))
        .collect();
    if sheets.is_empty() { Err("The bobbins weighed so far hold no whole thread.".into()) } else { Ok(sheets) }
}
