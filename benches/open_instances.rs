//! The open strip-packing instances, by hand: densities reached with a budget counted so as to take about so many seconds.
//!
//! `cargo bench --bench open_instances -- FOLDER [--only NAME] [--seconds 60] [--seed 1] [--evaluations N]`
//!
//! FOLDER holds the instances as JSON (`strip_height`, `items[].{demand, allowed_orientations, shape.data}`). One line of JSON
//! a run on the standard output; `open_instances.py` beside this file sets another program's results next to them.
#![expect(clippy::disallowed_methods, reason = "a benchmark reads files and the clock")]

use clothwright::geom::Point;
use clothwright::nest::{self, Budget, Job, Layout, Piece, Turns};
use std::path::Path;
use std::time::Instant;

/// The clearance as a share of the width: too little to gain by.
const CLEARANCE: f64 = 1e-5;
/// Places tried to find out how many go into a second.
const CALIBRATION: u64 = 300_000;

fn main() {
    let args: Vec<String> = std::env::args().skip(1).filter(|a| a != "--bench").collect();
    let option = |name: &str| args.iter().position(|a| a == name).and_then(|i| args.get(i + 1));
    let Some(folder) = args.first().filter(|a| !a.starts_with("--")) else {
        return println!("give the folder of the instances");
    };
    let number = |name: &str, or: f64| option(name).map_or(or, |v| v.parse().expect("a number"));
    let seconds = number("--seconds", 60.0);
    let mut files: Vec<_> = std::fs::read_dir(folder).expect("a folder").filter_map(|f| Some(f.ok()?.path())).collect();
    files.retain(|f| f.extension().is_some_and(|e| e == "json"));
    files.sort();
    for file in files {
        let name = file.file_stem().map(|s| s.to_string_lossy().into_owned()).unwrap_or_default();
        if option("--only").is_some_and(|only| *only != name) {
            continue;
        }
        let job = read(&file);
        let budget = Budget { evaluations: CALIBRATION, workers: 2, seed: number("--seed", 1.0) as u64 };
        let (_, took) = timed(&job, &budget);
        let evaluations = number("--evaluations", (CALIBRATION as f64 / took * seconds / 1e5).round() * 1e5) as u64;
        let (layout, took) = timed(&job, &Budget { evaluations, ..budget });
        let plain = nest::bottom_left(&job).expect("a sound instance");
        println!(
            r#"{{"instance":"{name}","seed":{},"evaluations":{evaluations},"seconds":{took:.1},"length":{},"density":{:.3},"bottom_left":{:.3}}}"#,
            budget.seed,
            layout.length,
            layout.used * 100.0,
            plain.used * 100.0,
        );
    }
}

fn timed(job: &Job, budget: &Budget) -> (Layout, f64) {
    let start = Instant::now();
    let layout = nest::solve(job, budget, &|_| false).expect("a sound instance");
    (layout, start.elapsed().as_secs_f64())
}

fn read(file: &Path) -> Job {
    let text = std::fs::read_to_string(file).expect("a readable file");
    let json: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    let width = json["strip_height"].as_f64().expect("a width");
    let items = json["items"].as_array().expect("items");
    Job { clearance: width * CLEARANCE, ..Job::new(width, items.iter().map(piece).collect()) }
}

fn piece(item: &serde_json::Value) -> Piece {
    let numbers = |v: &serde_json::Value| -> Vec<f64> {
        v.as_array().into_iter().flatten().filter_map(serde_json::Value::as_f64).collect()
    };
    let points = item["shape"]["data"].as_array().into_iter().flatten().map(numbers);
    let degrees: Vec<i32> = numbers(&item["allowed_orientations"]).into_iter().map(|d| d as i32).collect();
    Piece {
        turns: Turns::of_degrees(&degrees).unwrap_or(Turns::ONE_WAY),
        how_many: item["demand"].as_u64().expect("a count") as usize,
        ..Piece::new(points.map(|p| Point::new(p[0], p[1])).collect())
    }
}
