//! What a run keeps. `Trace` keeps who came from whom (explain, book, web), `Numbers` one `f64` an id (trials, searches, mends),
//! `Quiet` nothing (inside root finders).

use super::keys::{ALL, IDS};
use crate::formulas::registry::{Entry, Key, Mode, Solve};
use crate::units::Q;
use std::ops::Range;

/// Only the numbers. A value that this plan has no use for (plants of a woollen scarf) is absent.
#[derive(Clone)]
pub struct Numbers([f64; IDS]);

impl Default for Numbers {
    fn default() -> Self {
        Numbers([ABSENT; IDS])
    }
}

/// How absence is held: nothing ever computes with it, and [`Numbers::get`] turns it into `None`.
const ABSENT: f64 = f64::NAN;

impl Numbers {
    /// The value of an id, where the plan has one.
    pub fn get<D>(&self, key: &Key<D>) -> Option<Q<D>> {
        self.si(key.slot).map(Q::si)
    }
    /// The same by slot, in SI.
    #[inline(always)]
    pub fn si(&self, slot: u16) -> Option<f64> {
        let value = self.0[slot as usize];
        (!value.is_nan()).then_some(value)
    }
    /// Forgets all values, to be filled again.
    pub fn clear(&mut self) {
        self.0 = [ABSENT; IDS];
    }
    #[inline(always)]
    pub(super) fn put(&mut self, slot: u16, si: f64) {
        debug_assert!(si.is_finite(), "{} is {si}", ALL[slot as usize].name);
        self.0[slot as usize] = si;
    }
}

impl Mode for Numbers {
    type Tag = ();
    #[inline(always)]
    fn given<D>(&mut self, key: &Key<D>, value: Q<D>) {
        self.put(key.slot, value.to_si());
    }
    #[inline(always)]
    fn made<const K: usize>(&mut self, slot: Option<u16>, si: f64, _: &'static dyn Entry, _: [(); K]) {
        if let Some(slot) = slot {
            self.put(slot, si);
        }
    }
    #[inline(always)]
    fn solved<const K: usize>(&mut self, slot: u16, si: f64, _: &'static Solve, _: [(); K]) {
        self.put(slot, si);
    }
}

/// Nothing kept.
#[derive(Default)]
pub struct Quiet;

impl Mode for Quiet {
    type Tag = ();
    #[inline(always)]
    fn given<D>(&mut self, _: &Key<D>, _: Q<D>) {}
    #[inline(always)]
    fn made<const K: usize>(&mut self, _: Option<u16>, _: f64, _: &'static dyn Entry, _: [(); K]) {}
    #[inline(always)]
    fn solved<const K: usize>(&mut self, _: u16, _: f64, _: &'static Solve, _: [(); K]) {}
}

/// Where a node of the trace came from.
#[derive(Clone, Copy)]
pub enum By {
    Given,
    Formula(&'static dyn Entry),
    Root(&'static Solve),
}

/// One value of a traced run.
pub struct Node {
    /// Its id, or none for a step on the way.
    pub slot: Option<u16>,
    pub si: f64,
    pub by: By,
    from: Range<u32>,
}

/// Everything: who came from whom.
pub struct Trace {
    nodes: Vec<Node>,
    at: Vec<Option<u32>>,
    edges: Vec<u32>,
}

impl Default for Trace {
    fn default() -> Self {
        Trace { nodes: Vec::with_capacity(2 * IDS), at: vec![None; IDS], edges: Vec::with_capacity(6 * IDS) }
    }
}

impl Trace {
    fn push(&mut self, slot: Option<u16>, si: f64, by: By, from: &[u32]) -> u32 {
        let start = self.edges.len() as u32;
        self.edges.extend_from_slice(from);
        let node = self.nodes.len() as u32;
        self.nodes.push(Node { slot, si, by, from: start..start + from.len() as u32 });
        if let Some(slot) = slot {
            debug_assert!(si.is_finite(), "{} is {si}", ALL[slot as usize].name);
            self.at[slot as usize] = Some(node);
        }
        node
    }
    /// All nodes in the order they were made.
    pub fn nodes(&self) -> &[Node] {
        &self.nodes
    }
    /// The node that holds an id.
    pub fn node(&self, slot: u16) -> Option<&Node> {
        self.at[slot as usize].map(|at| &self.nodes[at as usize])
    }
    /// The nodes that a node was made from, in the order of its formula's letters.
    pub fn inputs<'a>(&'a self, node: &Node) -> impl Iterator<Item = &'a Node> {
        self.edges[node.from.start as usize..node.from.end as usize].iter().map(|at| &self.nodes[*at as usize])
    }
    /// The ids that an id feeds, unnamed steps looked through.
    pub fn feeds(&self, slot: u16) -> Vec<u16> {
        let mut reached = vec![false; self.nodes.len()];
        let mut out = Vec::new();
        if let Some(at) = self.at[slot as usize] {
            reached[at as usize] = true;
        }
        for (at, node) in self.nodes.iter().enumerate() {
            let from = &self.edges[node.from.start as usize..node.from.end as usize];
            if from.iter().any(|f| reached[*f as usize]) {
                match node.slot {
                    Some(slot) => out.push(slot),
                    None => reached[at] = true,
                }
            }
        }
        out.dedup();
        out
    }
    /// The values alone.
    pub fn numbers(&self) -> Numbers {
        let mut numbers = Numbers::default();
        for (slot, at) in self.at.iter().enumerate() {
            if let Some(at) = at {
                numbers.put(slot as u16, self.nodes[*at as usize].si);
            }
        }
        numbers
    }
}

impl Mode for Trace {
    type Tag = u32;
    fn given<D>(&mut self, key: &Key<D>, value: Q<D>) -> u32 {
        // an input that two stages read is one node
        match self.at[key.slot as usize] {
            Some(at) => at,
            None => self.push(Some(key.slot), value.to_si(), By::Given, &[]),
        }
    }
    fn made<const K: usize>(&mut self, slot: Option<u16>, si: f64, by: &'static dyn Entry, from: [u32; K]) -> u32 {
        self.push(slot, si, By::Formula(by), &from)
    }
    fn solved<const K: usize>(&mut self, slot: u16, si: f64, by: &'static Solve, from: [u32; K]) -> u32 {
        self.push(Some(slot), si, By::Root(by), &from)
    }
}
