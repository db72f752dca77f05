//! The threading, thread by thread: where each goes, its colour, and where a hand that has lost count finds itself again. Made one
//! at a time as it is asked for, so that the phone at the bench needs no list in memory.

use super::ColourOrder;
use super::heddles::{Hanging, Place};

/// Threads that are counted, tied and ticked together.
pub const GROUP: usize = 10;

/// A mark tied beside a thread.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Guide {
    /// The last of a group of ten.
    Ten,
    /// The last of fifty.
    Fifty,
    /// The last of a hundred.
    Hundred,
    /// The last of the left half.
    Middle,
    /// The last of all.
    Last,
}

/// One thread.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Thread {
    /// From 1 at the left as the weaver sits.
    pub number: usize,
    /// Group of ten, from 1, and place in it, from 1.
    pub group: usize,
    pub in_group: usize,
    /// Place in the list of colours.
    pub colour: usize,
    pub place: Place,
    /// Two ends that work as one, for a firm edge.
    pub double: bool,
    pub guide: Option<Guide>,
}

/// All threads of a warp, in order; an iterator that can also be asked for any one.
#[derive(Clone, Debug)]
pub struct ThreadList<'a> {
    hanging: &'a Hanging,
    colours: &'a ColourOrder,
    threads: usize,
    doubled: usize,
    next: usize,
}

/// The threads of `ends` working ends. `doubled`: how many at each edge are two ends working as one.
pub fn thread_list<'a>(hanging: &'a Hanging, colours: &'a ColourOrder, ends: usize, doubled: usize) -> ThreadList<'a> {
    ThreadList { hanging, colours, threads: ends, doubled, next: 0 }
}

impl ThreadList<'_> {
    /// The thread with a number from 1.
    pub fn number(&self, number: usize) -> Option<Thread> {
        let index = number.checked_sub(1).filter(|i| *i < self.threads)?;
        Some(Thread {
            number,
            group: index / GROUP + 1,
            in_group: index % GROUP + 1,
            colour: self.colours.at(index),
            place: self.hanging.place(index),
            double: index < self.doubled || index + self.doubled >= self.threads,
            guide: self.guide(number),
        })
    }

    fn guide(&self, number: usize) -> Option<Guide> {
        match number {
            n if n == self.threads => Some(Guide::Last),
            n if n == self.threads.div_ceil(2) && self.threads > 2 * GROUP => Some(Guide::Middle),
            n if n.is_multiple_of(100) => Some(Guide::Hundred),
            n if n.is_multiple_of(50) => Some(Guide::Fifty),
            n if n.is_multiple_of(GROUP) => Some(Guide::Ten),
            _ => None,
        }
    }

    /// Ends wound, counting both of those that are doubled.
    pub fn ends(&self) -> usize {
        self.threads + (2 * self.doubled).min(self.threads)
    }
}

impl Iterator for ThreadList<'_> {
    type Item = Thread;
    fn next(&mut self) -> Option<Thread> {
        let thread = self.number(self.next + 1)?;
        self.next += 1;
        Some(thread)
    }
    fn nth(&mut self, n: usize) -> Option<Thread> {
        self.next = self.next.saturating_add(n);
        self.next()
    }
    fn size_hint(&self) -> (usize, Option<usize>) {
        let left = self.threads.saturating_sub(self.next);
        (left, Some(left))
    }
}
impl ExactSizeIterator for ThreadList<'_> {}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weave::heddles::{Heddles, Way};
    use crate::weave::{ColourOrder, Weave};

    #[test]
    fn a_warp_thread_by_thread() {
        let hanging = Hanging::of(&Weave::Plain.draft(), Heddles::rigid(2)).unwrap();
        let colours = ColourOrder::parse("4 natural 2 indigo", &mut Vec::new()).unwrap();
        let list = thread_list(&hanging, &colours, 908, 2);
        assert_eq!((list.len(), list.ends()), (908, 912));
        let last = list.clone().last().unwrap();
        assert_eq!(
            (last.number, last.group, last.in_group, last.double, last.guide),
            (908, 91, 8, true, Some(Guide::Last))
        );
        assert_eq!(last.place, Place::Rigid(vec![Way::Slot(228), Way::Slot(228)]));
        let guides: Vec<_> = [9, 10, 50, 100, 454, 906].iter().map(|n| list.number(*n).unwrap().guide).collect();
        assert_eq!(
            guides,
            [None, Some(Guide::Ten), Some(Guide::Fifty), Some(Guide::Hundred), Some(Guide::Middle), None]
        );
        assert_eq!(list.number(5).unwrap().colour, 1);
        assert!(list.number(0).is_none() && list.number(909).is_none());
        assert_eq!(list.clone().nth(499), list.number(500));
        assert!(list.clone().enumerate().all(|(i, t)| Some(t) == list.number(i + 1)));
        assert_eq!(list.clone().filter(|t| t.double).count(), 4);
    }
}
