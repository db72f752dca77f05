//! Layouts found before, for a caller who asks again and again: a workbench on which the yarn is edited lays the same pieces each time. A
//! kept layout is the one a new search would find, so nothing but time depends on it.

use super::job::{Fault, Job};
use super::layout::Layout;
use super::search::{Budget, Progress, solve};
use std::collections::VecDeque;
use std::sync::{Mutex, PoisonError};

/// Layouts kept at most, the oldest forgotten first.
const MOST: usize = 32;

/// The layouts of jobs that were solved before.
#[derive(Debug, Default)]
pub struct Kept {
    found: Mutex<VecDeque<(Job, Budget, Layout)>>,
}

impl Kept {
    /// [`solve`], or what it gave for the same job and budget before. A search that was stopped early is not kept.
    ///
    /// # Errors
    /// As [`solve`].
    pub fn solve(
        &self,
        job: &Job,
        budget: &Budget,
        stop: &(dyn Fn(&Progress) -> bool + Sync),
    ) -> Result<Layout, Fault> {
        let known = {
            let found = self.found.lock().unwrap_or_else(PoisonError::into_inner);
            found.iter().find(|(had, with, _)| with == budget && had == job).map(|(_, _, layout)| layout.clone())
        };
        if let Some(layout) = known {
            return Ok(layout);
        }
        let layout = solve(job, budget, stop)?;
        if !layout.stopped_early {
            let mut found = self.found.lock().unwrap_or_else(PoisonError::into_inner);
            found.truncate(MOST - 1);
            found.push_front((job.clone(), *budget, layout.clone()));
        }
        Ok(layout)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::nest::Piece;
    use kurbo::Point;
    use std::sync::atomic::{AtomicUsize, Ordering};

    fn job(width: f64) -> Job {
        let corner = |x: f64, y: f64| Point::new(x, y);
        let piece = |long: f64, wide: f64, how_many| Piece {
            how_many,
            ..Piece::new(vec![corner(0.0, 0.0), corner(long, 0.0), corner(long * 0.7, wide), corner(0.0, wide)])
        };
        Job::new(width, vec![piece(300.0, 200.0, 3), piece(180.0, 150.0, 4)])
    }

    #[test]
    fn a_second_asking_searches_no_more_and_gives_the_same() {
        let (kept, asked) = (Kept::default(), AtomicUsize::new(0));
        let stop = |_: &Progress| {
            asked.fetch_add(1, Ordering::Relaxed);
            false
        };
        let budget = Budget { evaluations: 20_000, workers: 1, seed: 1 };
        let first = kept.solve(&job(420.0), &budget, &stop).expect("it lies");
        let searched = asked.load(Ordering::Relaxed);
        assert!(searched > 0);
        assert_eq!(kept.solve(&job(420.0), &budget, &stop).expect("it lies"), first);
        assert_eq!(asked.load(Ordering::Relaxed), searched);
        // another width or another budget is another question
        assert_eq!(
            kept.solve(&job(400.0), &budget, &stop).expect("it lies"),
            solve(&job(400.0), &budget, &stop).expect("it lies")
        );
        let before = asked.load(Ordering::Relaxed);
        kept.solve(&job(420.0), &Budget { seed: 2, ..budget }, &stop).expect("it lies");
        assert!(asked.load(Ordering::Relaxed) > before);
    }
}
