//! Cutting pieces out of the boards and dowels to be had, with the saw's kerf: which piece from which length.
//!
//! Beside each answer stands a bound no cutting can beat (linear programme over all cutting patterns, built column by column),
//! so a reader sees whether the answer is the best there is or how far off it can be at most. The effort is counted, never
//! timed: the same job gives the same boards. Knows lengths only; sections, woods and prices of sorts are grouped by the
//! caller, one job a section.

mod bound;
mod dive;
mod fill;
mod pattern;
mod search;

use crate::machine::Refusal;
use crate::units::{Length, MM, Q};
use pattern::Bench;

/// Most pieces in one job.
pub const MOST_PIECES: u32 = 5_000;
/// Longest board accepted.
pub const LONGEST_BOARD_MM: f64 = 20_000.0;
/// Table size of the pattern search; keeps memory and time bounded whatever is asked.
const MOST_WORK: usize = 8_000_000;
/// The grain of the arithmetic: a tenth of a millimetre.
const TICKS_PER_MM: f64 = 10.0;

/// A piece wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct Wanted {
    /// Its mark on the drawing, "B3".
    pub mark: String,
    /// Finished length.
    pub length: Q<Length>,
    /// How many of it.
    pub how_many: u32,
}

/// A length that can be had.
#[derive(Clone, Debug, PartialEq)]
pub struct Stock {
    /// What the shop or the heap in the shed calls it.
    pub name: String,
    /// Actual length.
    pub length: Q<Length>,
    /// How many there are; `None` when more can be bought.
    pub at_most: Option<u32>,
    /// Price of one, when known. Either all stocks of a job have one or the length is what is saved.
    pub price: Option<f64>,
}

/// What the saw takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Saw {
    /// Width lost at each cut. Full table-saw blade 1/8 in, thin 3/32 in (saw.coach table-saw kerf table); hand saw about 1 mm.
    pub kerf: Q<Length>,
    /// Cut off at each end of a board to square it and lose checks; zero for dowels.
    pub trim: Q<Length>,
}

/// One board with its cuts.
#[derive(Clone, Debug, PartialEq)]
pub struct Board {
    /// Which stock.
    pub stock: usize,
    /// Which pieces, in the order they are sawn, longest first.
    pub cuts: Vec<usize>,
    /// What is left over.
    pub offcut: Q<Length>,
}

/// What the least is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counted {
    /// Number of boards: one length only.
    Boards,
    /// Metres bought: several lengths, no prices.
    Metres,
    /// The prices given.
    Price,
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutting {
    /// Boards to cut.
    pub boards: Vec<Board>,
    /// Pieces (index, how many) for which there was no board.
    pub missing: Vec<(usize, u32)>,
    /// What `cost`, `bound` and `least` count.
    pub counted: Counted,
    /// Cost of the boards.
    pub cost: f64,
    /// No cutting costs less than this (linear bound).
    pub bound: f64,
    /// The bound rounded up to what whole boards can cost; the cost itself where every cutting was looked at.
    pub least: f64,
    /// Cost by the everyday rule: longest piece first into the first board that holds it.
    pub plain_rule: f64,
}

impl Cutting {
    /// Whether no better cutting exists.
    pub fn is_proved(&self) -> bool {
        self.missing.is_empty() && self.cost <= self.least + 1e-9
    }
}

/// Cuts `wanted` out of `stock`.
///
/// # Errors
/// A piece longer than every board, an empty stock, lengths that are not positive numbers, a kerf wider than 20 mm, some
/// prices given and some not, or a job past [`MOST_PIECES`].
pub fn cut(wanted: &[Wanted], stock: &[Stock], saw: Saw) -> Result<Cutting, Refusal> {
    let bench = lay_out(wanted, stock, saw)?;
    let (root, worth, mut columns) = bound::root(&bench);
    let mut best = fill::plain_rule(&bench);
    let plain = bench.cost(&best);
    let mut least = bench.round_up(root);
    for way in fill::WAYS {
        if bench.cost(&best) <= least || bench.is_tired() {
            break;
        }
        best = bench.cheaper(best, fill::fullest(&bench, way));
    }
    if bench.cost(&best) > least {
        best = dive::improve(&bench, &mut columns, best, least);
    }
    if bench.cost(&best) > least {
        let (found, complete) = search::all(&bench, &worth, best);
        best = found;
        if complete && best.missing.iter().all(|n| *n == 0) {
            least = least.max(bench.cost(&best));
        }
    }
    Ok(answer(&bench, best, (plain, root, least), stock, saw))
}

/// How many pieces of `piece` one `board` gives: the kerf is lost between pieces, not after the last.
pub fn pieces_per_board(board: Q<Length>, piece: Q<Length>, kerf: Q<Length>) -> u32 {
    let (board, piece) = (board.to_si() + kerf.to_si(), piece.to_si() + kerf.to_si());
    if piece <= 0.0 || !board.is_finite() { 0 } else { (board / piece + 1e-9).floor().clamp(0.0, 1e9) as u32 }
}

fn ticks(length: Q<Length>, up: bool) -> usize {
    let exact = length.get(&MM) * TICKS_PER_MM;
    (if up { (exact - 1e-6).ceil() } else { (exact + 1e-6).floor() }).max(0.0) as usize
}

fn lay_out(wanted: &[Wanted], stock: &[Stock], saw: Saw) -> Result<Bench, Refusal> {
    check(wanted, stock, saw)?;
    let (kerf, trim) = (ticks(saw.kerf, true), ticks(saw.trim, true));
    let lengths: Vec<usize> = wanted.iter().map(|w| ticks(w.length, true) + kerf).collect();
    let rooms: Vec<usize> = stock.iter().map(|s| (ticks(s.length, false) + kerf).saturating_sub(2 * trim)).collect();
    let longest = rooms.iter().copied().max().unwrap_or(0);
    for (piece, length) in wanted.iter().zip(&lengths) {
        if *length > longest && piece.how_many > 0 {
            let most = (longest.saturating_sub(kerf)) as f64 / TICKS_PER_MM;
            return Err(Refusal::new(
                "cutting",
                format!(
                    "piece {} is {:.0} mm long; the longest board gives {most:.0} mm after trimming: offer a longer board or \
                     join the piece",
                    piece.mark,
                    piece.length.get(&MM)
                ),
            ));
        }
    }
    let counted = counted(stock);
    let costs = stock.iter().map(|s| cost_of(s, counted)).collect();
    let bench = Bench::new(
        lengths,
        wanted.iter().map(|w| w.how_many).collect(),
        rooms,
        stock.iter().map(|s| s.at_most).collect(),
        costs,
        counted,
    );
    if bench.work() > MOST_WORK {
        return Err(Refusal::new(
            "cutting",
            format!(
                "{} different lengths are too many for one job: round them to whole millimetres or split the job",
                wanted.len()
            ),
        ));
    }
    Ok(bench)
}

fn counted(stock: &[Stock]) -> Counted {
    if stock.iter().all(|s| s.price.is_some()) {
        Counted::Price
    } else if stock.len() == 1 {
        Counted::Boards
    } else {
        Counted::Metres
    }
}

fn cost_of(stock: &Stock, counted: Counted) -> f64 {
    match counted {
        Counted::Boards => 1.0,
        Counted::Metres => stock.length.to_si(),
        // A board that costs nothing is still a board to carry: a thousandth part keeps the fewest.
        Counted::Price => stock.price.unwrap_or(0.0).max(1e-3),
    }
}

fn check(wanted: &[Wanted], stock: &[Stock], saw: Saw) -> Result<(), Refusal> {
    let refuse = |words: String| Err(Refusal::new("cutting", words));
    if stock.is_empty() {
        return refuse("no board is offered to cut from".into());
    }
    if stock.iter().any(|s| s.price.is_some()) && stock.iter().any(|s| s.price.is_none()) {
        return refuse("some boards have a price and some have none: give all a price or none".into());
    }
    for s in stock {
        let mm = s.length.get(&MM);
        if !(mm > 0.0 && mm <= LONGEST_BOARD_MM) {
            return refuse(format!(
                "board {:?} is {mm} mm long; from 1 mm to {LONGEST_BOARD_MM:.0} mm is accepted",
                s.name
            ));
        }
        if s.price.is_some_and(|p| !(0.0..=1e9).contains(&p)) {
            return refuse(format!("board {:?} has a price that is not a sum of money", s.name));
        }
    }
    for w in wanted {
        let mm = w.length.get(&MM);
        if !(mm >= 0.1 && mm.is_finite()) {
            return refuse(format!("piece {} is {mm} mm long; a length above nothing is needed", w.mark));
        }
    }
    let total = wanted.iter().map(|w| u64::from(w.how_many)).sum::<u64>();
    if total > u64::from(MOST_PIECES) {
        return refuse(format!("{total} pieces in one job; at most {MOST_PIECES}"));
    }
    let (kerf, trim) = (saw.kerf.get(&MM), saw.trim.get(&MM));
    if !(0.0..=20.0).contains(&kerf) || !(0.0..=1000.0).contains(&trim) {
        return refuse(format!("kerf {kerf} mm and trim {trim} mm: a kerf is 0 to 20 mm, a trim 0 to 1000 mm"));
    }
    Ok(())
}

fn answer(bench: &Bench, best: pattern::Lot, costs: (f64, f64, f64), stock: &[Stock], saw: Saw) -> Cutting {
    let boards = best
        .patterns
        .iter()
        .map(|p| {
            let mut cuts: Vec<usize> =
                p.counts.iter().enumerate().flat_map(|(i, n)| std::iter::repeat_n(i, *n as usize)).collect();
            cuts.sort_by_key(|i| (std::cmp::Reverse(bench.length(*i)), *i));
            let used: f64 = cuts.iter().map(|i| bench.ticks(*i) as f64 / TICKS_PER_MM).sum();
            let board = stock[p.stock].length.get(&MM) - 2.0 * saw.trim.get(&MM);
            let offcut = Q::new((board - used).max(0.0), &MM);
            Board { stock: p.stock, cuts, offcut }
        })
        .collect();
    let missing = best.missing.iter().enumerate().filter(|(_, n)| **n > 0).map(|(i, n)| (i, *n)).collect();
    let cost = best.patterns.iter().map(|p| bench.costs[p.stock]).sum();
    Cutting { boards, missing, counted: bench.counted, cost, bound: costs.1, least: costs.2, plain_rule: costs.0 }
}

#[cfg(test)]
mod tests;
