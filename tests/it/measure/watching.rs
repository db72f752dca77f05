//! Odd bobbins, drift and evenness: false calls as rare as stated, true ones soon, orders that hide stripes.

use super::{Chance, MAKERS};
use clothwright::measure::evenness::{Bobbin, interleave, share_out};
use clothwright::measure::watch::{odd_ones, watch};
use clothwright::units::*;
use libm::{exp, log};

#[test]
fn false_calls_are_as_rare_as_stated() {
    for (name, readings) in [(11, 20_u32), (12, 40)] {
        let (mut odd, mut drift, mut set) = (0, 0, 0);
        for i in 0..MAKERS {
            let mut c = Chance::new(name, i);
            let (level, cv) = (c.between(10.0, 100.0), c.between(0.02, 0.15));
            let list: Vec<Q<LinearDensity>> = (0..readings).map(|_| Q::si(level * exp(cv * c.normal()))).collect();
            let seen = watch(&list, Q::si(0.0), readings as usize);
            odd += u32::from(!seen.odd.is_empty());
            drift += u32::from(!seen.drifts.is_empty());
            let logs: Vec<Q<Ratio>> = list.iter().map(|q| Q::si(log(q.to_si()))).collect();
            set += u32::from(!odd_ones(&logs, 5).is_empty());
        }
        let share = |n: u32| f64::from(n) / f64::from(MAKERS);
        println!(
            "{readings} readings, nothing wrong: odd {:.3}, drift {:.3}, odd ones {:.3}",
            share(odd),
            share(drift),
            share(set)
        );
        for (what, n) in [("odd", odd), ("drift", drift), ("odd ones", set)] {
            assert!(share(n) < 0.065 && share(n) > 0.02, "{what}: {:.3} of {readings}", share(n));
        }
    }
}

#[test]
fn faults_are_called_soon_after_they_start() {
    let (mut called, mut delay, mut odd) = (0_u32, 0, 0);
    for i in 0..MAKERS {
        let mut c = Chance::new(13, i);
        // Eight sound readings, then a creep of half a standard deviation a reading.
        let creep: Vec<Q<PerLength>> =
            (0..20).map(|k| Q::si(12.0 * (1.0 + 0.02 * (c.normal() + 0.5 * f64::from((k - 7).max(0)))))).collect();
        if let Some(d) = watch(&creep, Q::si(0.0), 20).drifts.iter().find(|d| d.noticed >= 8) {
            called += 1;
            delay += d.noticed - 8;
            assert!(d.up);
        }
        // One bobbin a third too thick after ten sound ones of 5 % spread.
        let mut one: Vec<Q<LinearDensity>> = (0..11).map(|_| Q::si(50.0 * (1.0 + 0.05 * c.normal()))).collect();
        one[10] = Q::si(50.0 * 1.33);
        odd += u32::from(watch(&one, Q::si(0.0), 20).odd.contains(&10));
    }
    let mean = delay as f64 / f64::from(called);
    println!("creep called in {called} of {MAKERS}, {mean:.1} readings after it began; odd bobbin in {odd}");
    assert!(f64::from(called) > 0.9 * f64::from(MAKERS) && mean < 7.0);
    assert!(f64::from(odd) > 0.7 * f64::from(MAKERS));
}

#[test]
fn interleaving_is_never_worse_and_mostly_much_better() {
    let (mut before, mut after) = (0.0, 0.0);
    for i in 0..300 {
        let mut c = Chance::new(14, i);
        let list: Vec<Bobbin> = (0..c.whole(3, 10))
            .map(|name| Bobbin {
                name,
                count: Q::new(52.0 * exp(0.1 * c.normal()), &TEX),
                length: Q::si(c.between(100.0, 400.0)),
            })
            .collect();
        let order = interleave(&list, Q::si(0.65), 2).expect("some threads");
        assert!(order.step <= order.step_as_spun);
        // Every bobbin is used to its last whole thread and no further.
        for (k, b) in list.iter().enumerate() {
            assert_eq!(order.threads.iter().filter(|&&t| t == k).count(), (b.length.to_si() / 0.65) as usize);
        }
        before += order.step_as_spun.to_si();
        after += order.step.to_si();
    }
    println!("greatest step: as spun {:.1} %, interleaved {:.1} %", before / 3.0, after / 3.0);
    assert!(after < 0.4 * before, "{after} {before}");
}

#[test]
fn the_warp_share_is_the_best_there_is() {
    // Against every subset of up to ten bobbins.
    for i in 0..200 {
        let mut c = Chance::new(15, i);
        let list: Vec<Bobbin> = (0..c.whole(3, 10))
            .map(|name| Bobbin {
                name,
                count: Q::new(c.between(45.0, 60.0), &TEX),
                length: Q::si(c.between(100.0, 400.0)),
            })
            .collect();
        let need = c.between(200.0, 900.0);
        let found = share_out(&list, Q::si(need), Q::si(0.0));
        let mut best = f64::MAX;
        for set in 1_u32..1 << list.len() {
            let chosen: Vec<&Bobbin> = (0..list.len()).filter(|k| set >> k & 1 == 1).map(|k| &list[k]).collect();
            if chosen.iter().map(|b| b.length.to_si()).sum::<f64>() >= need
                && !chosen.iter().any(|b| found.aside.contains(b))
            {
                let counts = chosen.iter().map(|b| b.count.to_si());
                best = best.min(counts.clone().fold(f64::MIN, f64::max) - counts.fold(f64::MAX, f64::min));
            }
        }
        if found.warp_full {
            let got = found.warp.last().unwrap().count.to_si() - found.warp[0].count.to_si();
            assert!((got - best).abs() < 1e-12, "{got} {best}");
        }
        assert_eq!(found.warp.len() + found.weft.len() + found.aside.len(), list.len());
    }
}
