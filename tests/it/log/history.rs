//! The invented history of a tee at Tern Bay, from ginning to the last pick, read into a log and replayed entry by entry as the
//! maker would have seen it. The beat creeps from 60 cm on; the weft would have ended 14 cm short. The warning must come while
//! there is still enough on the loom to choose from.

use super::{now, open, place};
use clothwright::log::Entry;
use clothwright::log::samples::{Samples, samples};
use clothwright::measure::evenness::{chart, share_out};
use clothwright::measure::pace::{calendar, left, pace, total};
use clothwright::measure::runout::{Finish, Spinning, spinning, weaving};
use clothwright::measure::stage::keeps;
use clothwright::measure::watch::{drift_words, watch};
use clothwright::measure::yarn::{Count, count, strength, twist_got, wash_loss};
use clothwright::measure::{Prior, cloth, links, priors};
use clothwright::units::*;

const HISTORY: &str = include_str!("../../../plans/tern-bay-history.csv");
/// Cloth to weave, under tension, as the plan has it.
const CLOTH: f64 = 2.13;

fn history() -> Vec<Entry> {
    let (_folder, path) = place();
    let mut log = open(&path);
    let done = log.import_csv(HISTORY, now()).unwrap_or_else(|t| panic!("{t}"));
    assert!(done.added > 150 && done.known == 0, "{done:?}");
    assert_eq!(log.import_csv(HISTORY, now()).unwrap().added, 0);
    log.list().unwrap()
}

fn yarn(s: &Samples) -> Count {
    count(&s.skeins, Q::si(0.03), &priors::aimed_count(Q::new(52.1, &TEX)), &priors::unevenness())
}

/// Weft the plan expects per length of cloth, by the count of the bobbins chosen for it: 13.4 picks a centimetre, 70.3 cm of
/// weft each, either within 3 %.
fn weft_prior(s: &Samples) -> Prior<LinearDensity> {
    let weft: Vec<_> = s.bobbins.iter().filter(|b| [4, 6].contains(&b.name)).copied().collect();
    let count = chart(&weft).mean.expect("weft bobbins");
    let at = |times: f64| count * (1340.0 * 0.703 * times);
    Prior { middle: at(1.0), low: at(0.96), high: at(1.04), source: "the plan with the yarn as measured" }
}

fn forecast(s: &Samples) -> Option<Finish<Mass>> {
    let (woven, weft) = (s.woven?.to_si(), s.weft_left?);
    let to_weave = [CLOTH - woven, 0.99 * (CLOTH - woven), 1.01 * (CLOTH - woven)].map(Q::si);
    Some(weaving(weft, &s.used, &weft_prior(s), &priors::weft_scatter(), to_weave))
}

#[test]
fn the_warning_comes_in_time() {
    let entries = history();
    let mut seen: Vec<(f64, Finish<Mass>, bool, i64)> = Vec::new();
    for i in 0..entries.len() {
        if entries[i].kind != "woven" {
            continue;
        }
        let s = samples(&entries[..=i]);
        let (Some(found), Some(woven)) = (forecast(&s), s.woven) else { continue };
        let creeping = !watch(&s.picks, Q::new(0.1, &PER_CM), 25).drifts.is_empty();
        println!(
            "{:5.1} cm  chance {:.2}  picks creep: {creeping}  {}",
            woven.get(&CM),
            found.chance.to_si(),
            found.words
        );
        seen.push((woven.to_si(), found, creeping, entries[i].happened.day()));
    }
    // At the start, and as long as the beat holds, there is no alarm: a false one would be believed once only.
    assert!(seen.iter().filter(|s| s.0 <= 0.60).all(|s| !s.1.warn && !s.2));
    // What the cloth would have taken: use as it was before the creep, then as it was with the creep, no stripe.
    let s = samples(&entries);
    let late = s.used.iter().rev().take(4);
    let rate = late.clone().map(|u| u.weft.to_si()).sum::<f64>() / late.map(|u| u.woven.to_si()).sum::<f64>();
    let (at, first, _, day) = seen.iter().find(|s| s.1.warn).expect("a warning");
    let have = samples(&entries_until(&entries, *at)).weft_left.unwrap().to_si();
    let runs_out = at + have / rate;
    println!("first warning at {:.0} cm; runs out at {:.0} of {:.0} cm", at * 100.0, runs_out * 100.0, CLOTH * 100.0);
    assert!(runs_out < CLOTH - 0.05, "without a way out the weft does not reach");
    // Early enough: more than a third of the cloth and three days' weaving lie ahead, and the stripe chosen is not begun.
    assert!(*at < 0.65 * CLOTH && CLOTH - at > 0.35 * CLOTH, "{at}");
    assert!(*at < 1.28, "the stripe at the hems begins at 128 cm");
    let stops = entries.iter().filter(|e| e.kind == "woven" && e.happened.day() > *day).map(|e| e.happened.day());
    assert!(stops.collect::<std::collections::BTreeSet<_>>().len() >= 3);
    assert!(first.over[0].to_si() < first.over[2].to_si() && !first.words.is_empty());
    // The creep itself is called, no later than two weighings after the weft is.
    let called = seen.iter().find(|s| s.2).expect("the creep is called").0;
    assert!(called < at + 0.25 && called > 0.60, "{called}");
    let drift = watch(&s.picks, Q::new(0.1, &PER_CM), 25).drifts[0];
    assert!(drift.up);
    println!("{}", drift_words(&drift, "picks", "closer", "more open"));
    // With the stripe the weft reached.
    assert!(s.weft_left.unwrap().to_si() > 0.0 && s.woven.unwrap().to_si() >= CLOTH - 1e-9);
}

/// Entries up to the mark of `woven` metres.
fn entries_until(entries: &[Entry], woven: f64) -> Vec<Entry> {
    let end =
        entries.iter().position(|e| e.kind == "woven" && e.si("woven").is_some_and(|w| w >= woven - 1e-9)).unwrap();
    entries[..=end].to_vec()
}

#[test]
fn what_the_history_teaches() {
    let entries = history();
    let s = samples(&entries);
    // The slip of ten times was corrected and the double entry taken back: six bobbins, 298 g.
    assert_eq!(s.bobbins.iter().map(|b| b.name).collect::<Vec<_>>(), [1, 2, 3, 4, 5, 6]);
    assert!((s.spun.unwrap().get(&G) - 298.0).abs() < 0.5);
    // The bobbin spun in a hurry is called as it comes, and set aside.
    let counts: Vec<_> = s.bobbins.iter().map(|b| b.count).collect();
    assert_eq!(watch(&counts, Q::new(1.0, &TEX), 20).odd, [4]);
    assert!(chart(&s.bobbins).marks.iter().all(|m| m.odd == (m.bobbin.name == 5)));
    let shares = share_out(&s.bobbins, Q::si(2704.0), Q::si(2050.0));
    assert!(shares.warp_full && shares.weft_full && shares.aside.iter().map(|b| b.name).eq([5]));

    let yarn = yarn(&s);
    println!(
        "count {:.1} tex ({:.1}..{:.1}): {}",
        yarn.count.middle.get(&TEX),
        yarn.count.low.get(&TEX),
        yarn.count.high.get(&TEX),
        yarn.count.words
    );
    assert!(yarn.count.low.get(&TEX) < 54.0 && yarn.count.high.get(&TEX) > 54.0 && yarn.count.prior_weight < 0.3);
    assert!(yarn.count.words.contains("not measured after washing"));
    let loss = wash_loss(&s.skeins, &priors::wash_loss_cotton(), &priors::wash_scatter());
    assert!((loss.middle.get(&PERCENT) - 2.8).abs() < 1.0 && loss.n == 3);
    let twist = twist_got(&s.twists, &priors::twist_got(), &priors::twist_scatter());
    assert!((twist.middle.to_si() - 0.97).abs() < 0.05 && twist.n == 9);
    let ginned = keeps(&s.batches["ginning"], &priors::ginning_keeps(), &priors::batch_scatter());
    assert!((ginned.middle.get(&PERCENT) - 33.5).abs() < 1.0 && ginned.prior_weight < 0.2, "{ginned:?}");

    let strong = strength(&s.breaks, &priors::rule_of_thumb(Q::new(520.0, &CN)), &priors::strength_spread());
    let warp =
        links::Warp { yarn: Q::si(2704.0), gauge: Q::si(0.5), peak: Q::new(67.0, &CN), retained: priors::retained() };
    let lives = links::survival(&strong, &warp);
    println!(
        "breaks {:.1} ({:.2}..{:.0}): {}",
        lives.breaks.middle.to_si(),
        lives.breaks.low.to_si(),
        lives.breaks.high.to_si(),
        lives.breaks.words
    );
    assert!(
        lives.breaks.low.to_si() <= s.ends_broken && s.ends_broken <= lives.breaks.high.to_si(),
        "{} broke",
        s.ends_broken
    );

    let found = cloth::cloth(&s.swatches, &priors::cloth(Q::si(0.0705), Q::si(0.0705)));
    assert!(found.shrink_width.words.contains("narrow") && !found.draw_in.split);
    assert!(
        (found.take_up.middle.get(&PERCENT) - 7.1).abs() < 0.6 && (found.relax.middle.get(&PERCENT) - 3.8).abs() < 1.5
    );
    let off = found.draw_in.off_loom(Q::si(0.7));
    assert!(off[1].to_si() < 0.649 && off[2].to_si() > 0.649, "{off:?}");
}

/// In the middle of spinning: does the fibre last, and when will it be done?
#[test]
fn half_way_through_the_spinning() {
    let entries = history();
    let third = entries.iter().position(|e| e.kind == "bobbin" && e.si("bobbin") == Some(3.0)).unwrap();
    let s = samples(&entries[..=third]);
    let yarn = yarn(&s);
    let keep = keeps(&[], &priors::spinning_keeps(), &priors::batch_scatter());
    let spun = s.spun.unwrap();
    let fibre = Q::si(s.prepared["carding"].to_si() - spun.to_si() / keep.middle.to_si());
    let need = [5400.0, 5150.0, 5660.0].map(Q::<Length>::si);
    let found = spinning(&Spinning { spun, fibre, keeps: &keep, count: &yarn.count, need });
    assert!(found.chance.to_si() > 0.7, "{found:?}");
    assert!(found.over[1] < found.over[0] && found.over[0] < found.over[2]);

    let speed = pace::<Length>(&s.work["spinning"].by_length, &priors::spinning_pace(), &priors::pace_scatter());
    assert!((speed.middle.get(&M_H) - 92.0).abs() < 12.0 && speed.prior_weight < 0.2, "{speed:?}");
    let done: f64 = s.bobbins.iter().map(|b| b.length.to_si()).sum();
    let spin = left::<Length>("spinning", need.map(|q| Q::si(q.to_si() - done)), &speed);
    let weave = left::<Length>(
        "weaving",
        [CLOTH; 3].map(Q::si),
        &pace::<Length>(&[], &priors::weaving_pace(), &priors::pace_scatter()),
    );
    let hours = total(&[spin.clone(), weave]);
    assert!(hours[0] > spin.time[0] && hours[1] < hours[0] && hours[0] < hours[2]);
    let today = entries[third].happened.day() + 1;
    let plan = calendar(&s.days, today, spin.time, &priors::week(), &priors::week_scatter());
    let really = entries.iter().find(|e| e.kind == "bobbin" && e.si("bobbin") == Some(6.0)).unwrap().happened.day();
    println!("spinning done on day {}..{} ({}), really {really}", plan.finish[1], plan.finish[2], plan.words);
    assert!(plan.finish[1] - 3 <= really && really <= plan.finish[2] + 3, "{:?} {really}", plan.finish);
}

/// The chart of the bobbins and their stripes, for the eye in the target folder's `tmp/log`.
#[test]
fn the_bobbins_on_a_sheet() {
    use clothwright::draw::sheets::evenness;
    use clothwright::draw::{png, style::Look};
    use clothwright::measure::evenness::interleave;
    let s = samples(&history());
    let shares = share_out(&s.bobbins, Q::si(2704.0), Q::si(2050.0));
    let thread = Q::si(0.703);
    let order = interleave(&s.bobbins, thread, 2).expect("some threads");
    assert!(order.step.to_si() < 0.6 * order.step_as_spun.to_si());
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("log");
    std::fs::create_dir_all(&folder).unwrap();
    let sheets = [evenness::bobbins(&s.bobbins, &shares), evenness::stripes(&s.bobbins, thread, &order)];
    for sheet in sheets {
        let picture = png::bytes(&sheet, 110.0, Look::Print).unwrap();
        std::fs::write(folder.join(format!("{}.png", sheet.name)), picture).unwrap();
        assert!(sheet.items.len() > 5);
    }
    assert!(evenness::bobbins(&[], &shares).items.len() == 1, "no bobbins, a sentence");
}
