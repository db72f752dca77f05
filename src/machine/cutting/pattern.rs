//! A job as whole numbers, a cutting pattern, and the best pattern for given worths of the pieces (bounded knapsack).

use super::Counted;

/// One board's cuts as a count of each piece.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Pattern {
    pub stock: usize,
    pub counts: Vec<u32>,
}

/// Boards that make some or all pieces.
#[derive(Clone, Debug, Default)]
pub(super) struct Lot {
    pub patterns: Vec<Pattern>,
    pub missing: Vec<u32>,
}

/// The job: lengths with the kerf added to piece and board, divided by what they have in common.
pub(super) struct Bench {
    lengths: Vec<usize>,
    rooms: Vec<usize>,
    unit: usize,
    pub demand: Vec<u32>,
    pub at_most: Vec<Option<u32>>,
    pub costs: Vec<f64>,
    pub counted: Counted,
    spent: std::cell::Cell<u64>,
}

/// Knapsack cells after which no further improvement is looked for: some seconds of work.
const MOST_CELLS: u64 = 300_000_000;

fn common(a: usize, b: usize) -> usize {
    if b == 0 { a } else { common(b, a % b) }
}

impl Bench {
    pub fn new(
        lengths: Vec<usize>,
        demand: Vec<u32>,
        rooms: Vec<usize>,
        at_most: Vec<Option<u32>>,
        costs: Vec<f64>,
        counted: Counted,
    ) -> Self {
        // Rooms need not share the pieces' divisor: rounding a room down to a multiple of it loses nothing.
        let unit = lengths.iter().fold(0, |g, l| common(g, *l)).max(1);
        let lengths = lengths.iter().map(|l| l / unit).collect();
        let rooms = rooms.iter().map(|r| r / unit).collect();
        Bench { lengths, rooms, unit, demand, at_most, costs, counted, spent: std::cell::Cell::new(0) }
    }
    pub fn kinds(&self) -> usize {
        self.lengths.len()
    }
    pub fn stocks(&self) -> usize {
        self.rooms.len()
    }
    pub fn length(&self, piece: usize) -> usize {
        self.lengths[piece]
    }
    pub fn room(&self, stock: usize) -> usize {
        self.rooms[stock]
    }
    /// Length with its kerf, in ticks.
    pub fn ticks(&self, piece: usize) -> usize {
        self.lengths[piece] * self.unit
    }
    /// Cells of the largest knapsack table.
    pub fn work(&self) -> usize {
        self.rooms.iter().max().unwrap_or(&0).saturating_mul(self.kinds())
    }
    /// Whether the counted effort is used up.
    pub fn is_tired(&self) -> bool {
        self.spent.get() > MOST_CELLS
    }
    /// What a piece left unmade counts: dearer than any board, so that it is left only for want of boards.
    pub fn penalty(&self) -> f64 {
        10.0 * self.costs.iter().fold(0.0f64, |a, b| a.max(*b))
    }
    pub fn cost(&self, lot: &Lot) -> f64 {
        let missing: u32 = lot.missing.iter().sum();
        lot.patterns.iter().map(|p| self.costs[p.stock]).sum::<f64>() + f64::from(missing) * self.penalty()
    }
    pub fn cheaper(&self, a: Lot, b: Lot) -> Lot {
        if self.cost(&b) < self.cost(&a) - 1e-9 { b } else { a }
    }
    pub fn left(&self, stock: usize, used: &[u32]) -> bool {
        self.at_most[stock].is_none_or(|n| used[stock] < n)
    }
    /// The least whole-board cost not below a bound.
    pub fn round_up(&self, bound: f64) -> f64 {
        match self.counted {
            Counted::Boards => (bound - 1e-6).ceil(),
            _ => {
                let grains: Vec<u64> = self.costs.iter().map(|c| (c * 1e4).round() as u64).collect();
                let step = grains.iter().fold(0usize, |g, c| common(g, *c as usize)).max(1) as f64;
                ((bound * 1e4 / step - 1e-6).ceil()) * step / 1e4
            }
        }
    }
    /// The pattern of greatest worth in a board of `room`, at most `limits` of each piece.
    pub fn best_pattern(&self, room: usize, limits: &[u32], worth: &[f64]) -> (f64, Vec<u32>) {
        let mut best = vec![0.0f64; room + 1];
        let mut taken: Vec<Vec<u16>> = Vec::with_capacity(self.kinds());
        for piece in 0..self.kinds() {
            taken.push(self.add_piece(piece, limits[piece], worth[piece], &mut best));
        }
        let mut at = (0..=room).fold(0, |a, c| if best[c] > best[a] + 1e-12 { c } else { a });
        let value = best[at];
        let mut counts = vec![0u32; self.kinds()];
        for piece in (0..self.kinds()).rev() {
            if !taken[piece].is_empty() {
                counts[piece] = u32::from(taken[piece][at]);
                at -= counts[piece] as usize * self.lengths[piece];
            }
        }
        (value, counts)
    }
    /// One piece into the table `best[length used at most]`; returns how many are taken at each length, or nothing if unused.
    fn add_piece(&self, piece: usize, limit: u32, worth: f64, best: &mut [f64]) -> Vec<u16> {
        let (length, room) = (self.lengths[piece], best.len() - 1);
        if worth <= 0.0 || limit == 0 || length > room {
            return Vec::new();
        }
        let most = (limit as usize).min(room / length).min(usize::from(u16::MAX));
        let mut taken = vec![0u16; room + 1];
        self.spent.set(self.spent.get() + (room * most) as u64);
        for c in (length..=room).rev() {
            for n in 1..=most.min(c / length) {
                let value = best[c - n * length] + n as f64 * worth;
                if value > best[c] + 1e-12 {
                    // `best[c - ...]` still holds the row without this piece, since c falls.
                    best[c] = value;
                    taken[c] = n as u16;
                }
            }
        }
        taken
    }
}
