//! The outcome recomputed by hand, from the numbers in the JSON alone: a second reading of the models, on bare numbers.
#![expect(clippy::disallowed_methods, reason = "a second reading takes the standard library on purpose")]

use crate::scene::{WORKING, worked};
use clothwright::outlook::json;
use std::f64::consts::PI;

/// A plan's JSON values.
struct Values(serde_json::Value);

impl Values {
    fn of(name: &str) -> Self {
        Values(json::outcome(&worked(name, 0)))
    }
    fn maybe(&self, id: &str) -> Option<f64> {
        self.0["values"][id]["value"].as_f64()
    }
    fn get(&self, id: &str) -> f64 {
        self.maybe(id).unwrap_or_else(|| panic!("{id} is missing"))
    }
    fn agrees(&self, id: &str, by_hand: f64) {
        let value = self.get(id);
        assert!((value - by_hand).abs() <= 0.005 * by_hand.abs().max(1e-9), "{id}: {value}, by hand {by_hand}");
    }
}

#[test]
fn yarn_by_hand() {
    for name in WORKING {
        let v = Values::of(name);
        for yarn in ["warp", "weft"] {
            let of = |what: &str| v.get(&format!("yarn.{yarn}.{what}"));
            let tex = of("count");
            v.agrees(
                &format!("yarn.{yarn}.diameter"),
                (4.0 * tex / (PI * v.get("fibre.density") * 1000.0 * of("packing"))).sqrt(),
            );
            if of("plies") == 1.0 {
                v.agrees(&format!("yarn.{yarn}.twist"), of("twist_multiplier") * (590.541 / tex).sqrt() / 0.0254);
                let angle = (PI * of("diameter") * 1e-3 * of("twist")).atan();
                v.agrees(&format!("yarn.{yarn}.twist_angle"), angle.to_degrees());
            }
            v.agrees(&format!("yarn.{yarn}.fibres_in_section"), 1000.0 * tex / v.get("fibre.linear_density"));
        }
    }
}

#[test]
fn cloth_by_hand() {
    for name in WORKING {
        let v = Values::of(name);
        let (d1, d2) = (v.get("yarn.warp.diameter"), v.get("yarn.weft.diameter"));
        let (t1, t2) = (v.get("yarn.warp.count"), v.get("yarn.weft.count"));
        let d = d1 + d2;
        v.agrees("cloth.greatest_sett", 10.0 / d);
        // Peirce by halving, plain weave: the weft laid in the reed bends until it spans the narrowed cloth
        let laid = (1.0 + v.get("cloth.weft_slack") / 100.0) * 10.0 / v.get("cloth.sett_in_reed");
        let h2 = d * (1.0 - v.get("cloth.crimp_share"));
        let (mut low, mut high) = (1e-6, (1.0 - h2 / d).acos());
        for _ in 0..200 {
            let t = (low + high) / 2.0;
            let height = (laid - d * t) * t.sin() + d * (1.0 - t.cos());
            if height < h2 { low = t } else { high = t }
        }
        let p1 = (laid - d * low) * low.cos() + d * low.sin();
        v.agrees("cloth.crimp_weft", 100.0 * (laid / p1 - 1.0));
        v.agrees("cloth.draw_in", 100.0 * (1.0 - p1 * v.get("cloth.sett_in_reed") / 10.0));
        v.agrees("cloth.sett_off_loom", 10.0 / p1);
        let (c1, c2) = (v.get("cloth.crimp_warp") / 100.0, v.get("cloth.crimp_weft") / 100.0);
        v.agrees("cloth.take_up", 100.0 * c1 / (1.0 + c1));
        let (sw, sl) = (v.get("cloth.shrink_width") / 100.0, v.get("cloth.shrink_length") / 100.0);
        let off =
            0.1 * (v.get("cloth.sett_off_loom") * t1 * (1.0 + c1) + v.get("cloth.picks_off_loom") * t2 * (1.0 + c2));
        v.agrees("cloth.mass", off * v.get("cloth.finishing_keeps") / 100.0 / ((1.0 - sw) * (1.0 - sl)));
        let (e, p) = (v.get("cloth.sett_off_loom") / (1.0 - sw), v.get("cloth.picks_off_loom") / (1.0 - sl));
        v.agrees("cloth.open_area", 100.0 * (1.0 - d1 * e / 10.0) * (1.0 - d2 * p / 10.0));
        let (k1, k2) = (e * 2.54 / (590.541 / t1).sqrt(), p * 2.54 / (590.541 / t2).sqrt());
        v.agrees("cloth.cover_factor", k1 + k2 - k1 * k2 / 28.0);
    }
}

#[test]
fn quantities_by_hand() {
    for name in WORKING {
        let v = Values::of(name);
        let keeps = |id: &str| v.get(id) / 100.0;
        let (sw, sl) = (keeps("cloth.shrink_width"), keeps("cloth.shrink_length"));
        let reed =
            (v.get("lay.width") / (1.0 - sw) + v.get("cloth.edge_draw_in") / 10.0) / (1.0 - keeps("cloth.draw_in"));
        v.agrees("warp.width_in_reed", reed);
        let ends = v.get("warp.ends");
        assert!(
            ends % 2.0 == 0.0
                && ends >= reed * v.get("cloth.sett_in_reed") - 1e-6
                && ends < reed * v.get("cloth.sett_in_reed") + 2.0
        );
        let waste = v.get("warp.extra") + v.get("loom.waste_front") + v.get("loom.waste_back");
        v.agrees("warp.length", (v.get("lay.length") / (1.0 - sl) / (1.0 - keeps("cloth.take_up")) + waste) / 100.0);
        v.agrees("warp.yarn_length", ends * v.get("warp.length"));
        let wide = reed * (1.0 - keeps("cloth.draw_in")) - v.get("cloth.edge_draw_in") / 10.0;
        let pick = wide * (1.0 + keeps("cloth.crimp_weft")) + v.get("weft.turn") / 10.0;
        let picks = (v.get("lay.length") / (1.0 - sl) + v.get("warp.extra")) * v.get("cloth.picks_off_loom");
        v.agrees("weft.yarn_length", picks * pick / 100.0);
        let wound =
            v.get("warp.yarn_length") * v.get("yarn.warp.count") + v.get("weft.yarn_length") * v.get("yarn.weft.count");
        let yarn = wound / 1000.0 * (1.0 + keeps("demand.spare")) + v.get("demand.repair_yarn");
        v.agrees("demand.yarn_mass", yarn);
        let spun = yarn / keeps("losses.spinning_keeps");
        v.agrees("demand.spun_fibre", spun);
        v.agrees("demand.raw_fibre", spun / keeps("losses.preparing_keeps") / keeps("losses.cleaning_keeps"));
    }
}

#[test]
fn machines_by_hand() {
    let v = Values::of("tern-bay-tee.toml");
    let turns = v.get("yarn.warp.twist") * v.get("spinner.pace");
    v.agrees("spinner.spindle_speed", turns);
    v.agrees("spinner.motor_speed", turns * 63.0 / 18.0 / 0.98);
    let ke = (18.0 - 0.12 * 5.0) / (7200.0 * PI / 30.0);
    v.agrees("spinner.motor_constant", ke);
    let at_bobbin = 22.0 * (0.25 * PI).exp();
    v.agrees("spinner.pull_bobbin", at_bobbin);
    v.agrees("spinner.brake_torque_full", at_bobbin / 100.0 * 68.0 * 0.92 / 2.0);
    let load = 4.0 + (turns / 900.0).powi(2) + at_bobbin / 100.0 * 68.0 * 0.92 / 2.0;
    let current = load / 1000.0 / 3.5 / 0.9 / ke + 0.12;
    v.agrees("spinner.current", current);
    let hot = 5.0 * (1.0 + 0.00393 * 51.0);
    let volts = ke * turns * 3.5 / 0.98 * PI / 30.0 + current * hot + 0.5;
    v.agrees("spinner.duty", 100.0 * volts / 16.0);
    v.agrees("spinner.runaway_speed", (16.0 - 0.6) / ke * 30.0 / PI / 3.5);
    // the top speed is where the needed voltage meets the supply
    let top = v.get("spinner.top_speed");
    let drag = 4.0 + (top / 900.0).powi(2) + v.get("spinner.brake_torque_full");
    let needed = ke * top * 3.5 / 0.98 * PI / 30.0 + (drag / 1000.0 / 3.5 / 0.9 / ke + 0.12) * hot + 0.5;
    assert!((needed - 16.0).abs() < 0.02, "{needed}");
    v.agrees("loom.heddle_pitch", 40.0 / v.get("cloth.sett_in_reed"));
    let force = v.get("warp.ends") * v.get("warp.tension_per_end") / 100.0;
    v.agrees("loom.warp_tension", force);
    let (s, w) = (800.0, 10.0 * v.get("warp.width_in_reed"));
    let second = PI * 45f64.powi(4) / 64.0;
    v.agrees(
        "loom.beam_deflection",
        force * (8.0 * s * s * s - 4.0 * s * w * w + w * w * w) / (384.0 * 11_900.0 * second),
    );
    v.agrees("loom.shed_opening", 25.0 * (150.0 - 28.0 - 5.0) / 150.0);
    v.agrees("loom.ratchet_step", PI * 45.0 / 72.0);
}
