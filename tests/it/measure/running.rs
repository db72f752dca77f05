//! Running out: of those told a chance, that share had enough.

use super::{Chance, Cover, MAKERS, rounded};
use clothwright::measure::chance::Z90;
use clothwright::measure::runout::{Spinning, Used, spinning, weaving};
use clothwright::measure::{Estimate, priors};
use clothwright::units::*;
use libm::{exp, log, sqrt};

/// Shares of makers who had enough, among those told about the same chance.
#[derive(Default)]
struct Reliability([(u32, u32, f64); 5]);

impl Reliability {
    fn see(&mut self, chance: f64, enough: bool) {
        let bin = &mut self.0[((chance * 5.0) as usize).min(4)];
        bin.0 += 1;
        bin.1 += u32::from(enough);
        bin.2 += chance;
    }
    fn check(&self, what: &str) {
        for (n, enough, told) in self.0.iter().filter(|b| b.0 >= 100) {
            let (told, came) = (told / f64::from(*n), f64::from(*enough) / f64::from(*n));
            println!("{what}: told {told:.2}, came {came:.2} of {n}");
            let chance_error = 3.0 * sqrt(told * (1.0 - told) / f64::from(*n));
            assert!((told - came).abs() < 0.04 + chance_error, "{what}: told {told:.2}, came {came:.2}");
        }
        assert!(self.0.iter().filter(|b| b.0 >= 100).count() >= 3, "{what}: chances of too few kinds");
    }
}

#[test]
fn chances_to_finish_come_true() {
    let (mut spin, mut weave) = (Reliability::default(), Reliability::default());
    let (mut over, scatter) = (Cover::default(), priors::weft_scatter());
    let plan = priors::rule_of_thumb(Q::<LinearDensity>::new(80.0, &KTEX));
    for i in 0..MAKERS {
        let mut c = Chance::new(10, i);
        let fig = |m: f64, l: f64, h: f64| [Q::<Ratio>::si(m), Q::si(l), Q::si(h)];
        let (keep, count) = (fig(0.93, 0.88, 0.98), [52.0, 47.0, 57.5].map(|t| Q::<LinearDensity>::new(t, &TEX)));
        let estimate_keep = made(keep);
        let estimate_count = made(count);
        let need = [5400.0, 5000.0, 5830.0].map(Q::<Length>::si);
        let (spun, fibre) = (c.between(0.05, 0.25), c.between(0.02, 0.2));
        let state =
            Spinning { spun: Q::si(spun), fibre: Q::si(fibre), keeps: &estimate_keep, count: &estimate_count, need };
        let kept = 0.93 + 0.05 / Z90 * c.normal();
        let tex = 52e-6 * exp(log(57.5 / 47.0) / 2.0 / Z90 * c.normal());
        let needed = 5400.0 * exp(log(5830.0 / 5000.0) / 2.0 / Z90 * c.normal());
        spin.see(spinning(&state).chance.to_si(), (spun + fibre * kept) / tex >= needed);

        // Weaving: own use of weft per length, scattering by tens of centimetres.
        let (truth, cv) = (c.log_truth(&plan), c.log_truth(&scatter));
        let use_over =
            |c: &mut Chance, tens: u32| (0..tens).map(|_| 0.1 * truth * (1.0 + cv * c.normal())).sum::<f64>();
        let used: Vec<Used> = (0..c.whole(1, 6))
            .map(|_| {
                let tens = c.whole(1, 3);
                Used { weft: Q::si(rounded(use_over(&mut c, tens), 1e-4)), woven: Q::si(0.1 * f64::from(tens)) }
            })
            .collect();
        let tens = c.whole(5, 20);
        let needed = use_over(&mut c, tens);
        let left = needed * exp(0.15 * c.normal());
        let to_weave = [0.1, 0.0999, 0.1001].map(|x| Q::si(x * f64::from(tens)));
        let found = weaving(Q::si(left), &used, &plan, &scatter, to_weave);
        weave.see(found.chance.to_si(), left >= needed);
        over.see(found.over[1].to_si(), found.over[2].to_si(), left - needed);
    }
    spin.check("fibre lasts");
    weave.check("weft lasts");
    over.check("weft left over");
}

fn made<D: Dimension>(range: [Q<D>; 3]) -> Estimate<D> {
    Estimate { middle: range[0], low: range[1], high: range[2], n: 5, prior_weight: 0.2, words: String::new() }
}
