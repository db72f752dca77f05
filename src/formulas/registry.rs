//! What a formula is. Its entry is the only place where text, code, units, range, source and evidence stand; calling it is what
//! records where a value came from, so an explanation cannot drift from the arithmetic. Knows no id of the outcome: a value is
//! named by a [`Key`], whose table belongs to the chain.

use crate::units::{Dimension, Kind, Q, Unit};

/// What speaks for a formula.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Evidence {
    /// Printed in the source named, or the printed rule in other units.
    Published,
    /// True by definition or by arithmetic.
    Identity,
    /// Follows from published parts; the source names them.
    Derived,
    /// Common practice, no source.
    Practice,
    /// A published form quoted from memory: the page was not at hand.
    Memory,
}

impl Evidence {
    /// How an explanation says it.
    pub fn words(self) -> &'static str {
        match self {
            Evidence::Published => "published",
            Evidence::Identity => "true by definition",
            Evidence::Derived => "derived from published parts",
            Evidence::Practice => "common practice, no source",
            Evidence::Memory => "published, quoted from memory",
        }
    }
}

/// Where a formula or a number is from: a key of `sources.toml` and the place in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Source {
    pub key: &'static str,
    pub at: &'static str,
}

/// One typed input of a formula: its letter in the text, its unit there, and the range it is valid in.
pub struct Arg<D: 'static> {
    pub name: &'static str,
    pub unit: &'static Unit<D>,
    pub from: f64,
    pub to: f64,
}

/// The same with the type gone.
#[derive(Debug, Clone, Copy)]
pub struct ArgInfo {
    pub name: &'static str,
    pub unit: &'static str,
    pub kind: Kind,
    pub from: f64,
    pub to: f64,
}

/// The name a value carries in the outcome, with its dimension and the unit it is printed in.
pub struct Key<D: 'static> {
    pub slot: u16,
    pub name: &'static str,
    pub unit: &'static Unit<D>,
}

/// What a run leaves behind. `Tag` is nothing at all where nobody will ask, and a place in the trace where someone may.
pub trait Mode: Sized {
    /// What travels with a value.
    type Tag: Copy;
    /// A value that came from outside the chain.
    fn given<D>(&mut self, key: &Key<D>, value: Q<D>) -> Self::Tag;
    /// A value made by a formula; `slot` is its key's, where it has a name.
    fn made<const K: usize>(
        &mut self,
        slot: Option<u16>,
        si: f64,
        by: &'static dyn Entry,
        from: [Self::Tag; K],
    ) -> Self::Tag;
    /// A value met by a root finder.
    fn solved<const K: usize>(&mut self, slot: u16, si: f64, by: &'static Solve, from: [Self::Tag; K]) -> Self::Tag;
}

/// A quantity that may know where it came from. With a mode that keeps nothing it is one `f64`.
pub struct V<D, M: Mode> {
    pub q: Q<D>,
    pub tag: M::Tag,
}
impl<D, M: Mode> Clone for V<D, M> {
    fn clone(&self) -> Self {
        *self
    }
}
impl<D, M: Mode> Copy for V<D, M> {}

impl<D, M: Mode> V<D, M> {
    /// The number of SI units.
    #[inline(always)]
    pub fn si(self) -> f64 {
        self.q.to_si()
    }
}

/// An equation met by a root finder: its text is a residual, zero at the solution.
pub struct Solve {
    pub name: &'static str,
    /// One sentence for the reader.
    pub says: &'static str,
    pub residual: &'static str,
    /// Letters of the residual, with the unit they have there; the last one is the unknown.
    pub letters: &'static [(&'static str, &'static str)],
    pub tolerance: f64,
    pub source: Source,
    pub evidence: Evidence,
}

/// A tuple of typed arguments, to and from the plain numbers of the equation's text.
pub trait Args<const K: usize>: Sync + 'static {
    /// The tuple of values a call takes.
    type Values<M: Mode>: Copy;
    fn numbers<M: Mode>(&self, values: Self::Values<M>) -> [f64; K];
    fn tags<M: Mode>(values: Self::Values<M>) -> [M::Tag; K];
    fn info(&self) -> [ArgInfo; K];
}

macro_rules! args {
    ($($k:literal: $($d:ident $i:tt),+;)*) => { $(
        impl<$($d: Dimension),+> Args<$k> for ($(Arg<$d>,)+) {
            type Values<M: Mode> = ($(V<$d, M>,)+);
            #[inline(always)]
            fn numbers<M: Mode>(&self, values: Self::Values<M>) -> [f64; $k] { [$(values.$i.q.get(self.$i.unit)),+] }
            #[inline(always)]
            fn tags<M: Mode>(values: Self::Values<M>) -> [M::Tag; $k] { [$(values.$i.tag),+] }
            fn info(&self) -> [ArgInfo; $k] {
                [$(ArgInfo { name: self.$i.name, unit: self.$i.unit.name, kind: $d::KIND, from: self.$i.from, to: self.$i.to }),+]
            }
        }
    )* };
}
args! {
    1: A 0;
    2: A 0, B 1;
    3: A 0, B 1, C 2;
    4: A 0, B 1, C 2, D 3;
    5: A 0, B 1, C 2, D 3, E 4;
    6: A 0, B 1, C 2, D 3, E 4, F 5;
    7: A 0, B 1, C 2, D 3, E 4, F 5, G 6;
    8: A 0, B 1, C 2, D 3, E 4, F 5, G 6, H 7;
}

/// One formula, typed.
pub struct Formula<const K: usize, A: Args<K>, O: 'static> {
    pub name: &'static str,
    /// One sentence for the reader.
    pub says: &'static str,
    /// The equation, in the units of `takes` and `gives`. Written so that no evaluator can misread it: no sign before a power,
    /// no chained powers.
    pub text: &'static str,
    pub takes: A,
    /// Letter and unit of the result.
    pub gives: (&'static str, &'static Unit<O>),
    pub source: Source,
    pub evidence: Evidence,
    /// What must hold between the inputs beyond each one's own range, as text and as code; an empty text where nothing must.
    pub only: (&'static str, fn([f64; K]) -> bool),
    pub code: fn([f64; K]) -> f64,
}

impl<const K: usize, A: Args<K>, O: Dimension> Formula<K, A, O> {
    /// The value named `key` of the outcome, by this formula.
    #[inline(always)]
    pub fn to<M: Mode>(&'static self, mode: &mut M, key: &Key<O>, values: A::Values<M>) -> V<O, M> {
        self.run(mode, Some(key.slot), values)
    }
    /// A step on the way, without a name in the outcome.
    #[inline(always)]
    pub fn step<M: Mode>(&'static self, mode: &mut M, values: A::Values<M>) -> V<O, M> {
        self.run(mode, None, values)
    }
    #[inline(always)]
    fn run<M: Mode>(&'static self, mode: &mut M, slot: Option<u16>, values: A::Values<M>) -> V<O, M> {
        let q = Q::new((self.code)(self.takes.numbers(values)), self.gives.1);
        V { q, tag: mode.made(slot, q.to_si(), self, A::tags(values)) }
    }
}

/// A formula with its types gone: for `formula`, `explain`, the handbook and the tests.
pub trait Entry: Sync {
    fn name(&self) -> &'static str;
    fn says(&self) -> &'static str;
    fn text(&self) -> &'static str;
    fn takes(&self) -> Vec<ArgInfo>;
    /// Letter, unit and dimension of the result.
    fn gives(&self) -> (&'static str, &'static str, Kind);
    /// SI to the unit of the result.
    fn result_from_si(&self, si: f64) -> f64;
    fn source(&self) -> Source;
    fn evidence(&self) -> Evidence;
    /// What must hold between the inputs beyond their ranges, in the letters of the text; empty where nothing must.
    fn only(&self) -> &'static str;
    /// Whether these inputs, as many as `takes` and in the units of the text, are inside the ranges and what `only` says.
    fn holds(&self, values: &[f64]) -> bool;
    /// In the units of the text; `values` are as many as `takes`.
    fn eval(&self, values: &[f64]) -> f64;
}

impl<const K: usize, A: Args<K>, O: Dimension> Entry for Formula<K, A, O> {
    fn name(&self) -> &'static str {
        self.name
    }
    fn says(&self) -> &'static str {
        self.says.trim()
    }
    fn text(&self) -> &'static str {
        self.text
    }
    fn takes(&self) -> Vec<ArgInfo> {
        self.takes.info().to_vec()
    }
    fn gives(&self) -> (&'static str, &'static str, Kind) {
        (self.gives.0, self.gives.1.name, O::KIND)
    }
    fn result_from_si(&self, si: f64) -> f64 {
        self.gives.1.from_si(si)
    }
    fn source(&self) -> Source {
        self.source
    }
    fn evidence(&self) -> Evidence {
        self.evidence
    }
    fn only(&self) -> &'static str {
        self.only.0
    }
    fn holds(&self, values: &[f64]) -> bool {
        let inside = self.takes.info().iter().zip(values).all(|(arg, v)| (arg.from..=arg.to).contains(v));
        inside && values.try_into().is_ok_and(self.only.1)
    }
    fn eval(&self, values: &[f64]) -> f64 {
        (self.code)(values.try_into().expect("as many numbers as the formula takes"))
    }
}

/// Writes formulas down: one entry each, and the list of a topic's entries.
///
/// `NAME "name": (letter: Dimension UNIT from..to, …) -> letter: Dimension UNIT = "text"; code; Evidence "source" "place";`
///
/// Where inputs bind each other, `["condition", code];` stands before the evidence.
macro_rules! formulas {
    ($($(#[doc = $says:literal])+ $name:ident $id:literal:
        ($($arg:ident: $dim:ident $unit:ident $from:literal..$to:literal),+ $(,)?) -> $out:ident: $odim:ident $ounit:ident
        = $text:literal; $code:expr; $([$only:literal, $holds:expr];)? $evidence:ident $key:literal $at:literal;)*) => {
        $(
            $(#[doc = $says])+
            pub static $name: $crate::formulas::registry::Formula<
                { [$(stringify!($arg)),+].len() }, ($($crate::formulas::registry::Arg<$crate::units::$dim>,)+), $crate::units::$odim,
            > = $crate::formulas::registry::Formula {
                name: $id,
                says: concat!($($says),+),
                text: $text,
                takes: ($($crate::formulas::registry::Arg {
                    name: stringify!($arg), unit: &$crate::units::$unit, from: $from, to: $to,
                },)+),
                gives: (stringify!($out), &$crate::units::$ounit),
                source: $crate::formulas::registry::Source { key: $key, at: $at },
                evidence: $crate::formulas::registry::Evidence::$evidence,
                only: $crate::formulas::registry::only!($($only, $holds)?),
                code: $code,
            };
        )*
        /// The entries of this topic.
        pub static ALL: &[&dyn $crate::formulas::registry::Entry] = &[$(&$name),*];
    };
}
pub(crate) use formulas;

/// The condition of an entry, or none.
macro_rules! only {
    () => {
        ("", |_| true)
    };
    ($text:literal, $holds:expr) => {
        ($text, $holds)
    };
}
pub(crate) use only;
