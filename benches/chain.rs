//! The chain's own costs: one run for numbers, with margins, with a full trace; a plan read; trials on all cores.
#![expect(clippy::disallowed_methods, reason = "a benchmark reads the shipped plan")]

use clothwright::chain::decide::{Brief, decide};
use clothwright::chain::mode::{Numbers, Trace};
use clothwright::chain::stages::run;
use clothwright::checks::mend::{Mender, margins};
use clothwright::outlook::{trials, work_up};
use clothwright::plan::{Files, Plan, read};
use divan::{Bencher, black_box};

fn main() {
    divan::main();
}

fn plan() -> (String, Files, Plan) {
    let root = env!("CARGO_MANIFEST_DIR");
    let text = std::fs::read_to_string(format!("{root}/plans/tern-bay-tee.toml")).expect("the plan");
    let mut files = Files::default();
    for name in ["files/tern.svg", "files/tern-bay-garden.csv"] {
        files.insert(name, std::fs::read(format!("{root}/plans/{name}")).expect("a file"));
    }
    let plan = read(&text, &files).0.expect("a plan without faults");
    (text, files, plan)
}

fn brief() -> Brief {
    decide(&plan().2).unwrap_or_else(|found| panic!("{found:?}"))
}

#[divan::bench]
fn parse(bencher: Bencher) {
    let (text, files, _) = plan();
    bencher.bench(|| read(black_box(&text), black_box(&files)));
}

#[divan::bench(sample_count = 20)]
fn decide_with_the_lay(bencher: Bencher) {
    let (_, _, plan) = plan();
    bencher.bench(|| decide(black_box(&plan)).map(|brief| brief.given).ok());
}

#[divan::bench]
fn settle(bencher: Bencher) {
    let brief = brief();
    bencher.bench(|| black_box(&brief.wishes).settle().ok());
}

#[divan::bench]
fn run_numbers(bencher: Bencher) {
    let brief = brief();
    let mut numbers = Numbers::default();
    bencher.bench_local(move || {
        numbers.clear();
        run(black_box(&brief.given), &mut numbers);
    });
}

#[divan::bench]
fn run_numbers_and_margins(bencher: Bencher) {
    let brief = brief();
    let mut numbers = Numbers::default();
    bencher.bench_local(move || margins(black_box(&brief.given), &mut numbers));
}

#[divan::bench]
fn run_trace(bencher: Bencher) {
    let brief = brief();
    bencher.bench(|| {
        let mut trace = Trace::default();
        run(black_box(&brief.given), &mut trace);
        trace
    });
}

#[divan::bench(sample_count = 5)]
fn hundred_thousand_trials(bencher: Bencher) {
    let brief = brief();
    let keep = [clothwright::chain::keys::slot("demand.yarn_mass").expect("an id")];
    bencher.bench(|| trials::trials(black_box(&brief), 1, 100_000, &keep).count);
}

#[divan::bench(sample_count = 10)]
fn work_up_with_ranges(bencher: Bencher) {
    let brief = brief();
    let slot = clothwright::chain::keys::TOTAL_HOURS.slot;
    bencher.bench(|| work_up(black_box(&brief).clone(), trials::FEW).spread(slot));
}

#[divan::bench]
fn mends_of_a_failing_check(bencher: Bencher) {
    let mut brief = brief();
    brief.wishes.state(clothwright::chain::keys::LIFT.slot, 0.018);
    bencher.bench(|| {
        let mender = Mender::new(black_box(&brief.wishes)).expect("it settles");
        mender.failed().into_iter().map(|at| mender.singles(at).len()).sum::<usize>()
    });
}
