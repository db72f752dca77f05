//! `new`: a few questions, or answers as words, and a commented plan on disk.

use super::{Answer, Ending};
use crate::plan::new::{Answers, QUESTIONS, Question, words, write};
use anstream::{eprint, eprintln};
use std::io::{BufRead, IsTerminal};
use std::path::Path;

/// The command. `given` are `key=value` words; without any, and at a terminal, the questions are asked.
pub fn new(path: &Path, given: &[String]) -> Answer {
    if path.exists() {
        return Err(format!("{} is there already; a plan is never written over", path.display()));
    }
    let mut answers = Answers::new();
    for word in given {
        let (key, value) =
            word.split_once('=').ok_or_else(|| format!("`{word}` is not key=value, such as garment.kind=tee"))?;
        let question = QUESTIONS.iter().find(|question| question.path == key).ok_or_else(|| {
            let keys: Vec<&str> = QUESTIONS.iter().map(|question| question.path).collect();
            format!("`{key}` is not asked for a new plan; these are: {}", keys.join(", "))
        })?;
        question.takes(value).map_err(|fault| format!("{key}: {}", fault.message))?;
        answers.insert(key.to_string(), value.to_string());
    }
    if given.is_empty() {
        if !std::io::stdin().is_terminal() {
            return Err(
                "Say what to make as key=value words, such as garment.kind=tee fibre.kind=\"upland cotton\".".into()
            );
        }
        ask(&mut answers)?;
    }
    let text = write(&answers).map_err(|fault| fault.message)?;
    crate::disk::replace(path, text.as_bytes())?;
    Ok((format!("{} is written. Next: clothwright check {}\n", path.display(), path.display()), Ending::Done))
}

/// Asks at the terminal; an empty line leaves a question open where it may stay open.
fn ask(answers: &mut Answers) -> Result<(), String> {
    let mut lines = std::io::stdin().lock().lines();
    for question in QUESTIONS {
        if !question.matters(answers) {
            continue;
        }
        loop {
            eprint!("{}{} ", question.ask, choices(question));
            let Some(line) = lines.next() else { return Err("The answers ended early; nothing is written.".into()) };
            let line = line.map_err(|fault| fault.to_string())?;
            let typed = line.trim();
            if typed.is_empty() && question.optional {
                break;
            }
            match question.takes(typed) {
                Ok(()) => {
                    answers.insert(question.path.to_string(), typed.to_string());
                    break;
                }
                Err(fault) => eprintln!("  {}", fault.message),
            }
        }
    }
    Ok(())
}

/// The words a question takes, where it takes words.
fn choices(question: &Question) -> String {
    let words = words(question);
    let open = if question.optional { ", or nothing" } else { "" };
    if words.is_empty() { String::new() } else { format!(" ({}{open})", words.join(" | ")) }
}
