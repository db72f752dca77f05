//! The command line: the only layer that prints. Plain verbs and trade nouns; exit codes in [`Ending`].

mod ahead;
mod bench;
mod book;
mod check;
mod compare;
mod draw;
mod explain;
mod explore;
mod formula;
mod load;
mod log;
mod new;
mod outlook;
mod page;
mod show;

use crate::diag::show::Look;
use crate::draw::of_plan::Options;
use crate::web::Serving;
use anstream::{eprintln, print};
use clap::{Parser, Subcommand, ValueEnum};
use std::path::PathBuf;
use std::process::ExitCode;

/// How a run of the program ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ending {
    /// It did what was asked.
    Done = 0,
    /// The plan was worked out, and a check failed.
    CheckFailed = 1,
    /// It could not do what was asked: the words, a file, or the plan are at fault.
    Refused = 2,
}

impl From<Ending> for ExitCode {
    fn from(ending: Ending) -> ExitCode {
        ExitCode::from(ending as u8)
    }
}

/// What a command came to: what to print, and how to end; or why not, ready to be shown.
pub type Answer = Result<(String, Ending), String>;

/// Plans a hand-spun, hand-woven, printed garment from one file: body to plants, both machines, and how sure it is.
#[derive(Parser)]
#[command(name = "clothwright", version, about, after_help = ENDINGS, max_term_width = 100)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

const ENDINGS: &str = "Ends with 0 when done, 1 when a check of the plan fails, 2 when the words, a file or the plan are at fault.\n\
    NO_COLOR=1 leaves out the colours.";

/// What is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For a person.
    Text,
    /// For another program.
    Json,
}

#[derive(Subcommand)]
enum Command {
    /// Work the whole plan out, from body to plants, machines, print and hours
    Plan {
        /// The plan file
        plan: PathBuf,
        #[arg(long, value_enum, default_value = "text")]
        format: Format,
        /// Use what was measured: the log beside the plan
        #[arg(long)]
        with_log: bool,
        /// Search for the lay for seconds instead of milliseconds
        #[arg(long)]
        thorough: bool,
        /// Trials behind the ranges; 0 shows none
        #[arg(long, default_value_t = crate::outlook::trials::FEW as u32, value_parser = clap::value_parser!(u32).range(0..=1_000_000))]
        trials: u32,
    },
    /// Say only what is wrong with a plan and what would mend it
    Check {
        /// The plan file
        plan: PathBuf,
        /// Look also for the smallest pair of changes that mends what one change mends; takes seconds
        #[arg(long)]
        pairs: bool,
        /// Use what was measured: the log beside the plan
        #[arg(long)]
        with_log: bool,
        #[arg(long, value_enum, default_value = "text")]
        format: Format,
    },
    /// Say why a number is what it is: formula, inputs, source, what it feeds
    Explain {
        /// An id such as warp.length; or the plan, with the id after it
        first: String,
        /// The plan file, where the id comes first; or the id
        second: String,
        /// Use what was measured: the log beside the plan
        #[arg(long)]
        with_log: bool,
        #[arg(long, value_enum, default_value = "text")]
        format: Format,
    },
    /// Draw a plan: clothwright draw warping PLAN -o warping.pdf; without -o, what there is to draw
    Draw {
        /// The drawing, such as lay or loom, and then the plan file; or the plan file alone, to list the drawings
        first: PathBuf,
        /// The plan file, where the drawing comes first
        plan: Option<PathBuf>,
        /// File to write: its ending says the format, svg, pdf, png, dxf, stl or wif; several files get a word each
        #[arg(short, long)]
        out: Option<PathBuf>,
        /// Use what was measured: the log beside the plan
        #[arg(long)]
        with_log: bool,
        /// PDF: cut what is larger than this paper into tiles to glue
        #[arg(long, value_enum)]
        paper: Option<draw::TilePaper>,
        /// PNG: dots an inch
        #[arg(long, default_value_t = 150, value_parser = clap::value_parser!(u32).range(36..=1200))]
        dpi: u32,
    },
    /// List the formulas, show one, or work one out: formula twist count="20 Ne" multiplier=4.2
    Formula {
        /// Its name; left out, all are listed
        name: Option<String>,
        /// letter=value, each with its unit or in the formula's own
        inputs: Vec<String>,
        #[arg(long, value_enum, default_value = "text")]
        format: Format,
    },
    /// What differs between two plans, and what that changes
    Compare {
        first: PathBuf,
        second: PathBuf,
        #[arg(long, value_enum, default_value = "text")]
        format: Format,
    },
    /// Write a first, commented plan from a few questions, or from key=value words
    New {
        /// The file to write
        plan: PathBuf,
        /// Answers, such as garment.kind=tee fibre.kind="upland cotton"
        answers: Vec<String>,
    },
    /// How sure the plan is: ranges, what makes it unsure, what to measure next
    Outlook {
        /// The plan file
        plan: PathBuf,
        /// The figure to make surer
        #[arg(long, default_value = "demand.raw_fibre")]
        about: String,
        /// Trials
        #[arg(long, default_value_t = 16_384, value_parser = clap::value_parser!(u32).range(256..=1_000_000))]
        trials: u32,
        /// The same seed gives the same figures
        #[arg(long, default_value_t = 1)]
        seed: u32,
        /// Use what was measured: the log beside the plan
        #[arg(long)]
        with_log: bool,
        #[arg(long, value_enum, default_value = "text")]
        format: Format,
    },
    /// Look through every design that passes with what is fixed kept fixed
    Explore {
        /// The plan file
        plan: PathBuf,
        /// Designs to look through, about
        #[arg(long, default_value_t = 200_000, value_parser = clap::value_parser!(u32).range(100..=10_000_000))]
        designs: u32,
        /// Let this key be chosen although the plan states it, such as garment.cut or yarn.warp.count; may be said often
        #[arg(long)]
        free: Vec<String>,
        /// Write this design of the list into the plan
        #[arg(long, conflicts_with = "out")]
        take: Option<usize>,
        /// Draw hours against fibre of all that pass into this file: svg, pdf or png
        #[arg(short, long)]
        out: Option<PathBuf>,
        #[arg(long, value_enum, default_value = "text")]
        format: Format,
    },
    /// Keep what was weighed, counted and woven, and learn from it
    Log {
        /// The plan file; the log stands beside it
        plan: PathBuf,
        #[command(subcommand)]
        act: log::Act,
    },
    /// Open the workbench over a plan: screens to change it on, and counters for the loom's side
    Bench {
        /// The plan file; left out, the workbench begins a new plan with a few questions
        plan: Option<PathBuf>,
        /// Port on this machine; 0 takes a free one
        #[arg(long, default_value_t = 4040)]
        port: u16,
        /// Do not open a browser
        #[arg(long)]
        no_open: bool,
        /// For a phone on the same network too; it comes in by a code that works once
        #[arg(long)]
        lan: bool,
        /// A name by which the phone reaches this machine, such as laptop.local; its address, if not said
        #[arg(long, requires = "lan")]
        name: Vec<String>,
    },
    /// Write the workshop book: one page with everything that is needed away from the screen, to print
    Book {
        /// The plan file
        plan: PathBuf,
        /// The file to write
        #[arg(short, long, default_value = "book.html")]
        out: PathBuf,
        /// Use what was measured: the log beside the plan
        #[arg(long)]
        with_log: bool,
    },
    /// Print the JSON Schema of what `plan --format json` prints
    Schema,
    /// Print completions for a shell
    Completions { shell: clap_complete::Shell },
}

/// Runs the program on the process's own arguments.
pub fn main() -> ExitCode {
    let arguments = Arguments::parse();
    match run(arguments.command) {
        Ok((text, ending)) => {
            print!("{text}");
            ending.into()
        }
        Err(why) => {
            eprintln!("{}", why.trim_end());
            Ending::Refused.into()
        }
    }
}

fn run(command: Command) -> Answer {
    let look = Look::Coloured;
    match command {
        Command::Plan { plan, format, with_log, thorough, trials } => {
            let log = page::WithLog::if_said(with_log);
            let asked = page::Asked { trials: trials as usize, log, thorough, ..page::Asked::default() };
            page::plan(&plan, format, asked, look)
        }
        Command::Check { plan, pairs, with_log, format } => {
            check::check(&plan, pairs, page::WithLog::if_said(with_log), format, look)
        }
        Command::Explain { first, second, with_log, format } => {
            explain::explain(&first, &second, page::WithLog::if_said(with_log), format, look)
        }
        Command::Draw { first, plan, out, with_log, paper, dpi } => {
            let log = if with_log { page::WithLog::Yes } else { page::WithLog::Beside };
            let options = Options { dpi: f64::from(dpi), paper: paper.map(Into::into), ..Options::default() };
            let name = plan.as_ref().map(|_| first.to_string_lossy().into_owned());
            let plan = plan.as_deref().unwrap_or(&first);
            draw::draw(&draw::Ask { sheet: name.as_deref(), plan, out: out.as_deref(), log, options }, look)
        }
        Command::Formula { name, inputs, format } => formula::formula(name.as_deref(), &inputs, format),
        Command::Compare { first, second, format } => compare::compare(&first, &second, format, look),
        Command::New { plan, answers } => new::new(&plan, &answers),
        Command::Outlook { plan, about, trials, seed, with_log, format } => {
            let ask =
                outlook::Ask { about: &about, count: trials as usize, seed, log: page::WithLog::if_said(with_log) };
            outlook::outlook(&plan, &ask, format, look)
        }
        Command::Explore { plan, designs, free, take, out, format } => {
            let ask = explore::Ask { designs: designs as usize, free: &free, take, out: out.as_deref(), format };
            explore::explore(&plan, &ask, look)
        }
        Command::Log { plan, act } => log::log(&plan, &act, look),
        Command::Bench { plan, port, no_open, lan, name } => {
            bench::bench(&Serving { plan, folder: PathBuf::from("."), port, lan, names: name }, !no_open)
        }
        Command::Book { plan, out, with_log } => book::book(&plan, &out, with_log, look),
        Command::Schema => Ok((pretty(&crate::outlook::json::schema()), Ending::Done)),
        Command::Completions { shell } => {
            let mut out = Vec::new();
            clap_complete::generate(
                shell,
                &mut <Arguments as clap::CommandFactory>::command(),
                "clothwright",
                &mut out,
            );
            Ok((String::from_utf8_lossy(&out).into_owned(), Ending::Done))
        }
    }
}

/// JSON as it is printed.
fn pretty(value: &serde_json::Value) -> String {
    format!("{value:#}\n")
}
