//! How much length each width of cloth would take: the table from which the weaving width is chosen, and which the rest of
//! the chain reads instead of laying again.

use super::job::{Fault, Job, Piece};
use super::layout::Layout;
use super::search::{Budget, Progress, solve};
use rayon::prelude::*;

/// One width tried.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Finished width, mm.
    pub width: f64,
    /// The layout, or why there is none.
    pub laid: Result<Layout, Fault>,
}

/// Widths tried, narrowest first.
#[derive(Clone, Debug, PartialEq)]
pub struct Widths {
    pub rows: Vec<Row>,
}

impl Widths {
    /// The row to lay by on cloth `width` mm wide: of those no wider, the shortest; of equals the narrower. `None` on cloth
    /// narrower than any that serves. In steps, since a layout needs its full width: nothing between rows is made up.
    pub fn at(&self, width: f64) -> Option<&Row> {
        let fits = self.rows.iter().filter(|row| row.width <= width);
        fits.filter_map(|row| row.laid.as_ref().ok().map(|l| (row, l.length)))
            .min_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(row, _)| row)
    }

    /// Cloth taken on a width, mm; see [`Self::at`].
    pub fn length_at(&self, width: f64) -> Option<f64> {
        self.at(width).and_then(|row| row.laid.as_ref().ok()).map(|l| l.length)
    }

    /// The row that takes the least area; of equals the narrower.
    pub fn least_area(&self) -> Option<&Row> {
        let area = |row: &Row| row.laid.as_ref().ok().map(|l| l.length * row.width);
        self.rows
            .iter()
            .filter(|r| r.laid.is_ok())
            .min_by(|a, b| area(a).unwrap_or(f64::INFINITY).total_cmp(&area(b).unwrap_or(f64::INFINITY)))
    }
}

/// Lays what `pieces` gives for each of `widths` (mm; the pieces may differ, since some must be split on narrow cloth), with
/// the usual clearance and the budget for each. The same table whatever the number of threads.
pub fn widths(
    widths: &[f64],
    pieces: &(dyn Fn(f64) -> Vec<Piece> + Sync),
    budget: &Budget,
    stop: &(dyn Fn(&Progress) -> bool + Sync),
) -> Widths {
    let mut sorted = widths.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted.dedup();
    let row = |width: f64| Row { width, laid: solve(&Job::new(width, pieces(width)), budget, stop) };
    Widths { rows: sorted.into_par_iter().map(row).collect() }
}
