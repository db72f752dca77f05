//! Machines as a maker meets them: a salvage box that works and some that fail for the right reason, solids read back by
//! another library, drawings read back from their files, bad input answered in words.

use clothwright::chain::machines::Buying;
use clothwright::draw::sheet::Sheet;
use clothwright::draw::{dxf, pdf, png, sheets, solid, style::Look, svg};
use clothwright::draw::{extent, of_plan};
use clothwright::machine::drive::{Rig, margins};
use clothwright::machine::heddle::{self, Style};
use clothwright::machine::loom::{self, Loom, LoomWish};
use clothwright::machine::motor::{Motor, Told};
use clothwright::machine::netlist::control::{Turning, spinner as circuit};
use clothwright::machine::netlist::{sizes, truth};
use clothwright::machine::shape::mesh::Mesh;
use clothwright::machine::shopping::{self, Needs, Price, Terms, Whose};
use clothwright::machine::spinner::{self, SpinnerWish};
use clothwright::machine::{pulley, turned};
use clothwright::trade::stock::System;
use clothwright::trade::timber::Timber;
use clothwright::units::*;

fn mm(value: f64) -> Q<Length> {
    Q::new(value, &MM)
}

fn motor(rated: f64, rpm: f64, amps: f64, ohms: f64) -> Told {
    Told::Plate {
        rated: Q::new(rated, &VOLT),
        no_load_speed: Q::new(rpm, &RPM),
        no_load: Q::new(amps, &AMP),
        resistance: Q::new(ohms, &OHM),
    }
}

fn rig(told: Told, supply: (f64, f64), pulleys: (f64, f64)) -> Rig {
    let motor = Motor::of(told).unwrap();
    Rig {
        winding: motor.hot(Q::new(65.0, &DEG_C)),
        motor,
        supply: Q::new(supply.0, &VOLT),
        supply_limit: Q::new(supply.1, &AMP),
        driver_drop: Q::new(0.5, &VOLT),
        motor_pulley: mm(pulleys.0),
        spindle_pulley: mm(pulleys.1),
        slip: Q::new(2.0, &PERCENT),
        belt_efficiency: Q::new(90.0, &PERCENT),
        bearings: Q::new(4.0, &MN_M),
        windage_900: Q::new(1.5, &MN_M),
        brake: Q::new(15.1, &MN_M),
        start_factor: 1.5,
        current_share: Q::new(25.0, &PERCENT),
    }
}

fn failing(rig: &Rig) -> Vec<&'static str> {
    margins(rig, Q::new(1100.0, &RPM), Q::new(2000.0, &RPM)).iter().filter(|m| !m.passes).map(|m| m.what).collect()
}

/// Motors out of things found: what works, and what fails for the reason it should.
#[test]
fn salvaged_motors() {
    // A cordless screwdriver's motor on a laptop-sized supply below its rating.
    assert_eq!(failing(&rig(motor(18.0, 7200.0, 0.12, 5.0), (16.0, 3.5), (18.0, 63.0))), Vec::<&str>::new());
    // A toy car's: cannot reach the speed within its voltage.
    assert_eq!(failing(&rig(motor(6.0, 5200.0, 0.25, 1.9), (9.0, 2.5), (13.0, 60.0))), ["knob for this speed"]);
    // A windscreen wiper's: slow and strong, far too slow through the same pulleys.
    let wiper = failing(&rig(motor(12.0, 60.0, 1.5, 0.6), (12.0, 5.0), (18.0, 63.0)));
    assert!(wiper.contains(&"knob for this speed"), "{wiper:?}");
    // A hair dryer's fan motor on twice its voltage: the flyer would run away.
    let fan = failing(&rig(motor(9.0, 14_000.0, 0.3, 2.0), (18.0, 3.0), (30.0, 60.0)));
    assert!(fan.contains(&"runaway speed"), "{fan:?}");
    // A cassette player's: turns, but cooks at this load.
    let tiny = failing(&rig(motor(12.0, 2400.0, 0.02, 48.0), (12.0, 1.0), (40.0, 60.0)));
    assert!(tiny.contains(&"current in the winding") || tiny.contains(&"torque to start a full bobbin"), "{tiny:?}");
}

#[test]
fn pulleys_from_the_box() {
    let r = rig(motor(18.0, 7200.0, 0.12, 5.0), (16.0, 3.5), (18.0, 63.0));
    let wish = pulley::Wish {
        motor: [10.0, 16.0, 18.0, 22.0, 36.0].map(mm).to_vec(),
        spindle: [36.0, 50.0, 63.0, 80.0].map(mm).to_vec(),
        centres: mm(170.0),
        belt: mm(2.0),
        moulded: true,
        work: Q::new(1100.0, &RPM),
        safe: Q::new(2000.0, &RPM),
    };
    let list = pulley::choose(&r, &wish).unwrap();
    assert!(list[0].against.is_empty(), "{:?}", list[0]);
    let (slow, fast) = list[0].range.unwrap();
    assert!(slow.get(&RPM) < 1100.0 && fast.get(&RPM) > 1100.0);
    // Every refused pair says why with a number.
    for choice in list.iter().filter(|c| !c.against.is_empty()) {
        assert!(
            choice.against.iter().all(|w| w.chars().any(|c| c.is_ascii_digit()) || w.contains("cannot start")),
            "{choice:?}"
        );
    }
}

fn loom() -> Loom {
    let wish = heddle::Wish {
        style: Style::Sheet,
        heddles: 2,
        sett: 12.97,
        width: 700.0,
        blade: 1.9,
        eye: 0.8,
        slot_height: 78.0,
        yarn: 0.27,
        unevenness: 0.2,
        side_force: 0.5,
        thick: None,
        cutter: 0.0,
        segment: None,
        shafts: None,
        ends_per_dent: 2,
        system: System::Metric,
    };
    loom::design(&LoomWish {
        weaving_width: mm(720.0),
        ends: 908,
        width_in_reed: mm(700.0),
        fell_to_heddle: mm(150.0),
        heddle_to_back: mm(420.0),
        lift: mm(25.0),
        shuttle_height: mm(12.0),
        shuttle_width: mm(28.0),
        shuttle_length: None,
        section: loom::Section::Round,
        beam: Some(mm(45.0)),
        span: Some(mm(800.0)),
        teeth: 36,
        pawls: 2,
        wheel: None,
        timber: Timber::find("beech").unwrap(),
        system: System::Metric,
        tension: Q::new(241.0, &N),
        peak: Q::new(602.0, &N),
        strain: 0.0033,
        warp_length: Q::new(2.98, &M),
        layer: mm(0.9),
        heddle: heddle::work_out(&wish).unwrap(),
        stands: loom::Stands::Floor,
        stiffening: loom::Stiffening::Brace,
        height: None,
        sitter: loom::Sitter::default(),
    })
    .unwrap()
}

/// Every solid the machines have, written as STL, read back and found watertight by the reader's own test.
#[test]
fn every_solid_is_watertight_to_another_reader() {
    let spinner = spinner::design(&SpinnerWish::of(22.0, 68.0, 80.0, (18.0, 63.0), 170.0, 2.0)).unwrap();
    let mut meshes: Vec<(String, Mesh)> = [&spinner.bobbin, &spinner.motor_pulley, &spinner.spindle_pulley]
        .map(|t: &turned::Turned| (t.name.to_string(), t.mesh().unwrap()))
        .to_vec();
    let loom = loom();
    meshes.push(("ratchet".into(), Mesh::plate(&loom.ratchet, 0.0, 18.0).unwrap()));
    meshes.push(("pawl".into(), Mesh::plate(&loom.pawl, 0.0, 18.0).unwrap()));
    let printed =
        heddle::work_out(&heddle::Wish { style: Style::Printed, sett: 11.0, blade: 2.0, ..loom.wish.heddle.wish });
    for cut in heddle::cut(&printed.unwrap()).unwrap() {
        meshes.push((cut.words.clone(), Mesh::plate(&cut.outline, 0.0, cut.thick).unwrap()));
    }
    for (name, mesh) in meshes {
        let proof = mesh.prove().unwrap();
        let bytes = solid::stl(&mesh).unwrap();
        let read = stl_io::read_stl(&mut std::io::Cursor::new(&bytes)).unwrap();
        read.validate().unwrap_or_else(|e| panic!("{name}: {e}"));
        let volume: f64 = read.faces.iter().map(|f| tetrahedron(&f.vertices.map(|i| read.vertices[i].0))).sum();
        assert!((volume - proof.volume).abs() / proof.volume < 1e-4, "{name}: {volume} {}", proof.volume);
    }
}

fn tetrahedron(c: &[[f32; 3]; 3]) -> f64 {
    let [a, b, c] = c.map(|p| p.map(f64::from));
    (a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0])) / 6.0
}

fn all_sheets() -> Vec<Sheet> {
    let loom = loom();
    let mut out = sheets::loom::sheets(&loom);
    out.extend(sheets::parts::sheets(&loom));
    let needs = Needs { loom: &loom.parts, ..Needs::default() };
    let shopping = shopping::list(&needs, &Terms::plain(System::Metric)).unwrap();
    out.extend(sheets::cuts::sheets(&Buying { shopping, unused: Vec::new(), without: Vec::new() }));
    let h = &loom.wish.heddle;
    out.extend(sheets::heddle::sheets(h, &heddle::compare(&h.wish).unwrap(), &heddle::cut(h).unwrap()));
    let threads = sheets::shed::Threads {
        rest: 27.0,
        open: 67.0,
        breaks: 520.0,
        lift: Some(Q::new(69.0, &N)),
        advance: 35.0,
        clear: 5.0,
    };
    out.push(sheets::shed::sheet(&loom, &threads));
    let net = circuit(Turning::Relay);
    let load = sizes::Load {
        voltage: Q::new(16.0, &VOLT),
        supply: Q::new(3.5, &AMP),
        working: Q::new(0.41, &AMP),
        stall: Q::new(3.2, &AMP),
        stall_hot: Q::new(2.7, &AMP),
        lead: Q::new(1.5, &M),
    };
    let sized = sizes::choose(&load).unwrap();
    let (tried, buy) = (truth::try_all(&net), sizes::buy(&net, &load, &sized));
    out.extend(sheets::wiring::sheets(&sheets::wiring::Wiring {
        turning: Turning::Relay,
        truth: &tried,
        sizes: &sized,
        buy: &buy,
        voltage: load.voltage,
        wait: 4.0,
        ruler: System::Metric.ruler(),
    }));
    out
}

/// Each machine sheet goes through every exporter; names are told apart; those that cut or turn carry a caution.
#[test]
fn machine_sheets_export() {
    let all = all_sheets();
    let mut names: Vec<&str> = all.iter().map(|s| s.name.as_str()).collect();
    names.sort_unstable();
    let count = names.len();
    names.dedup();
    assert_eq!(names.len(), count, "{names:?}");
    for sheet in &all {
        assert!(svg::file(sheet).contains("<svg"), "{}", sheet.name);
        assert!(pdf::single(sheet).unwrap().starts_with(b"%PDF"), "{}", sheet.name);
        assert!(dxf::bytes(sheet).is_ok(), "{}", sheet.name);
        assert!(png::bytes(sheet, 36.0, Look::Print).is_ok(), "{}", sheet.name);
    }
    for name in ["loom", "loom-build", "shed", "heddle", "wiring", "wiring-parts"] {
        let sheet = all.iter().find(|s| s.name == name).unwrap();
        assert!(svg::file(sheet).contains("Local codes"), "{name} has no caution");
    }
}

/// What nobody can build is answered in words with the number given.
#[test]
fn impossible_machines_are_answered() {
    let said = |r: Result<(), clothwright::machine::Refusal>| r.unwrap_err().to_string();
    assert!(said(Motor::of(motor(18.0, 7200.0, 0.12, 0.0)).map(drop)).contains("winding resistance of 0"));
    let mut bad = rig(motor(18.0, 7200.0, 0.12, 5.0), (16.0, 3.5), (18.0, 63.0));
    bad.spindle_pulley = mm(f64::INFINITY);
    assert!(said(bad.check()).contains("spindle pulley"));
    let mut toothpick = loom().wish;
    toothpick.beam = Some(mm(2.0));
    assert!(said(loom::design(&toothpick).map(drop)).contains("beam diameter of 2 mm"));
    toothpick.beam = Some(mm(6.0));
    assert!(loom::design(&toothpick).unwrap().failed().any(|f| f.what.contains("bow of the beam")));
    let mut terms = Terms::plain(System::Metric);
    terms.prices.push(Price { whose: Whose::Loom, mark: "H1".into(), price: 12.0 });
    let parts = loom().parts;
    let needs = Needs { loom: &parts, ..Needs::default() };
    assert!(said(shopping::list(&needs, &terms).map(drop)).contains("in no money"));
}

/// The drawings of the two machines.
const MACHINES: [&str; 9] = ["spinner", "knob", "brake", "wiring", "loom", "shed", "heddle", "parts", "cuts"];

/// Prices of a plan: a mark of the wiring is told from the loom's of the same name, and what nothing bought has is said.
#[test]
fn prices_of_a_plan_are_summed() {
    let (text, files) = crate::scene::source("tern-bay-tee.toml");
    let prices = [("loom", "C4", "0.50"), ("spinner", "F1", "0.80"), ("spinner", "13", "12"), ("loom", "Z9", "7")];
    let tables: String = prices
        .iter()
        .map(|(whose, mark, price)| format!("\n[[{whose}.bought]]\nmark = \"{mark}\"\nprice = {price}\n"))
        .collect();
    let priced = crate::scene::with(&text, "show = \"metric\"", "show = \"metric\"\nmoney = \"EUR\"") + &tables;
    let outcome = crate::scene::outcome_of(&priced, &files, 0);
    let buying = outcome.machines().buying.as_ref().unwrap().as_ref().unwrap();
    let line = |whose, mark: &str| buying.shopping.lines.iter().find(|l| l.whose == whose && l.mark == mark).unwrap();
    assert_eq!((line(Whose::Wiring, "F1").price, line(Whose::Loom, "F1").price), (Some(0.8), None));
    let cords = line(Whose::Loom, "C4");
    let (sum, unpriced) = buying.shopping.so_far();
    assert!((sum - (0.5 * f64::from(cords.how_many) + 12.8)).abs() < 1e-9, "{sum}");
    assert_eq!(unpriced, buying.shopping.lines.len() - 3);
    assert!(buying.unused.iter().any(|words| words.contains("Z9 of the loom")), "{:?}", buying.unused);
    // Wood of both machines is cut together, and every mark of the spinner's drawing that is wood is among it.
    let cut: Vec<&str> = buying.shopping.jobs.iter().flat_map(|j| &j.pieces).map(|p| p.mark.as_str()).collect();
    for mark in ["1", "2", "3", "4", "5", "14", "A1", "B1"] {
        assert!(cut.contains(&mark), "{mark} is not cut: {cut:?}");
    }
}

/// A plan shown in inches has no millimetre on any sheet of its machines, whatever its heddle and its stand.
#[test]
fn machines_of_a_plan_in_inches_speak_of_inches() {
    let (text, files) = crate::scene::source("tern-bay-tee.toml");
    let inch = crate::scene::with(&text, "show = \"metric\"", "show = \"inch\"");
    let in_words = |sheet: &Sheet| {
        let mut out = Vec::new();
        extent::walk(&sheet.items, &mut |seen| {
            if let extent::Seen::Words { text, .. } = seen {
                out.push(text.to_string());
            }
        });
        out
    };
    let metric = ["mm", "cm", "m", "kg", "N", "MPa", "metre", "centimetre", "mm,", "mm.", "mm;", "mm:"];
    for style in ["sheet", "strips", "printed", "string"] {
        for stands in ["diagonal", "clamp"] {
            let plan = inch
                .replace("style = \"sheet\"", &format!("style = \"{style}\""))
                .replace("timber = \"beech\"", &format!("timber = \"beech\"\nframe = {{ brace = \"{stands}\" }}"));
            let outcome = crate::scene::outcome_of(&plan, &files, 0);
            for word in MACHINES {
                for sheet in of_plan::sheets(&outcome, word).unwrap() {
                    for said in in_words(&sheet) {
                        let slip = said.split_whitespace().find(|w| metric.contains(w));
                        assert!(slip.is_none(), "{style} {stands}: {} says {said:?}", sheet.name);
                    }
                }
            }
        }
    }
}

/// Every shipped plan that states machines: all sheets are made, all solids are closed, and the shapes agree with the chain's
/// own numbers.
#[test]
fn the_machines_of_every_shipped_plan() {
    use clothwright::chain::keys as id;
    for name in crate::scene::WORKING {
        let outcome = crate::scene::worked(name, 0);
        let machines = outcome.machines();
        for word in MACHINES {
            match of_plan::sheets(&outcome, word) {
                Ok(pages) => assert!(!pages.is_empty(), "{name} {word}"),
                Err(why) => assert!(machines.spinner.is_none() || machines.loom.is_none(), "{name} {word}: {why}"),
            }
        }
        if let Some(Ok(work)) = &machines.spinner {
            for (solid, mesh) in sheets::machines::spinner_solids(work).unwrap() {
                assert!(mesh.prove().is_ok(), "{name} {solid}");
            }
        }
        if let Some(Ok(work)) = &machines.loom {
            for (solid, mesh) in sheets::machines::loom_solids(work).unwrap() {
                assert!(mesh.prove().is_ok(), "{name} {solid}");
            }
        }
        if let Some(Ok(loom)) = &machines.loom {
            let near = |a: f64, b: f64, what: &str| assert!((a - b).abs() <= 1e-6 * b.abs(), "{name} {what}: {a} {b}");
            let bow = loom.loom.findings.iter().find(|f| f.what.contains("bow of the beam")).unwrap();
            near(bow.value, outcome.numbers.get(&id::BEAM_DEFLECTION).unwrap().get(&MM), "bow");
            near(loom.loom.wish.heddle.pitch, outcome.numbers.get(&id::HEDDLE_PITCH).unwrap().get(&MM), "pitch");
        }
        if let Some(Ok(spinner)) = &machines.spinner {
            let knob = spinner.rig.knob_for(spinner.work);
            let duty = outcome.numbers.get(&id::DUTY).unwrap().to_si();
            assert!((knob - duty).abs() < 1e-9, "{name}: knob {knob} duty {duty}");
        }
    }
}
