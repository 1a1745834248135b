//! The questions of `ellwand garment plan`. Answers become the equivalent flags, so that each is checked as a flag is, and they can
//! be repeated and learned from.

use super::parts::PartOf;
use crate::{
    command_error::CommandError,
    pairs::check_one,
    typed::date,
    ui::prompt::{self, choose, confirm, optional, pairs, text},
};
use ellwand_contract::{
    garments::{NeedInput, OperationInput},
    seams::SeamInput,
};
use ellwand_domain::{
    quantity::Count,
    setting::{Grain, Kind, PartCut, WorkKind},
    shrinkage::Preparation,
};

/// Answers about one thing, by their keys.
type Answers = Vec<(&'static str, String)>;

const BY_LENGTH: &str = "by its length";
const BY_PARTS: &str = "by the parts of the shell";
const BY_COUNT: &str = "by count";
const BY_SEAMS: &str = "by the seams that take it";

/// Asks for the head, the needs with their parts, the seams and the work: the words of the command line.
pub fn ask() -> Result<Vec<String>, CommandError> {
    let mut words = vec![text("What is it?", "for example: work jacket", filled)?];
    let mut add = |flag: &str, answer: Option<String>| {
        words.extend(answer.map(|answer| format!("{flag}={answer}")));
    };
    let help = "a name or a code; empty: for stock";
    add("--for", optional("Who is it for?", help, filled)?);
    add("--count", optional("How many?", "empty: 1", counted)?);
    let help = "2026-10-15; empty: no date";
    let due = optional("When is it due?", help, |text| date(text).map(drop))?;
    add("--due", due);
    let (mut question, mut from_seams) = ("Add a need?", false);
    while confirm(question)? {
        let (need, parts) = need()?;
        from_seams |= need.iter().any(|(key, _)| *key == "seams");
        add("--need", Some(pairs(&need)));
        for part in parts {
            add("--part", Some(pairs(&part)));
        }
        question = "Another need?";
    }
    let mut question = "Add a seam?";
    while from_seams && confirm(question)? {
        add("--seam", Some(pairs(&seam()?)));
        question = "Another seam?";
    }
    let mut question = "Add an operation?";
    while confirm(question)? {
        add("--operation", Some(pairs(&operation()?)));
        question = "Another operation?";
    }
    Ok(words)
}

fn filled(text: &str) -> Result<(), &'static str> {
    match text.trim().is_empty() {
        true => Err("it needs a name"),
        false => Ok(()),
    }
}

fn counted(text: &str) -> Result<(), String> {
    match text.trim().parse::<Count>() {
        Ok(Count::ZERO) => Err("it is at least 1".to_owned()),
        Ok(_) => Ok(()),
        Err(error) => Err(error.to_string()),
    }
}

/// Asks for the value of a key of `A`.
fn value<A: clap::Args>(
    key: &'static str,
    question: &str,
    help: &str,
) -> Result<(&'static str, String), CommandError> {
    let answer = text(question, help, move |text| check_one::<A>(key, text))?;
    Ok((key, answer))
}

/// The same where it may be left empty.
fn maybe<A: clap::Args>(
    key: &'static str,
    question: &str,
    help: &str,
) -> Result<Option<(&'static str, String)>, CommandError> {
    let answer = optional(question, help, move |text| check_one::<A>(key, text))?;
    Ok(answer.map(|answer| (key, answer)))
}

/// A need, and its parts.
fn need() -> Result<(Answers, Vec<Answers>), CommandError> {
    let role = text("What is it for?", "shell, lining, buttons …", filled)?;
    let kind = prompt::kind("What kind of material?")?;
    let mut need = vec![("role", role.clone()), ("kind", kind.word().to_owned())];
    let ways = match kind {
        Kind::Cloth | Kind::Lining => vec![BY_LENGTH, BY_PARTS],
        Kind::Interlining => vec![BY_PARTS, BY_LENGTH],
        Kind::Thread => vec![BY_LENGTH, BY_SEAMS],
        Kind::Trim => vec![BY_COUNT, BY_LENGTH],
    };
    let way = choose("How much of it is needed?", ways)?;
    let mut parts = Vec::new();
    match way {
        BY_COUNT => need.push(value::<NeedInput>(
            "count",
            "How many?",
            "for one garment: 7",
        )?),
        BY_SEAMS => need.push(("seams", "yes".to_owned())),
        BY_PARTS => {
            need.push(preparation()?);
            let mut question = "Another part?";
            while parts.is_empty() || confirm(question)? {
                parts.push(part(&role, kind)?);
                question = "Another part?";
            }
        }
        _ if kind.is_rectangle() => {
            let help = "for one garment, after the preparation: 2.60m";
            need.push(value::<NeedInput>(
                "length",
                "What length must be left?",
                help,
            )?);
            let help = "usable width that the length is for: 140cm; empty: any";
            need.extend(maybe::<NeedInput>("width", "At what width?", help)?);
            need.push(preparation()?);
        }
        _ => need.push(value::<NeedInput>(
            "length",
            "What length?",
            "for one garment: 180m",
        )?),
    }
    if matches!(kind, Kind::Thread | Kind::Trim) {
        let help = "navy; empty: not decided";
        need.extend(maybe::<NeedInput>("colour", "Which colour?", help)?);
    }
    Ok((need, parts))
}

fn preparation() -> Result<(&'static str, String), CommandError> {
    let help =
        "washed, washed x3, steamed, none to cut it as it is, or raw if it must never get wet";
    let check = |text: &str| text.trim().parse::<Preparation>().map(drop);
    Ok(("preparation", text("How is it prepared?", help, check)?))
}

fn part(role: &str, kind: Kind) -> Result<Answers, CommandError> {
    let mut part = vec![("need", role.to_owned())];
    part.push((
        "name",
        text("Which part?", "collar, stand, front …", filled)?,
    ));
    let help = "of one garment; empty: 1";
    let count = optional("How many of it?", help, counted)?;
    part.extend(count.map(|count| ("count", count)));
    let question = "How long is the shell part as it is cut?";
    part.push(value::<PartOf>(
        "length",
        question,
        "along its grain: 46cm",
    )?);
    part.push(value::<PartOf>("width", "How wide?", "across it: 12cm")?);
    let grain = choose("Which grain runs along its length?", Grain::ALL.to_vec())?;
    part.push(("grain", grain.to_string()));
    if kind == Kind::Interlining {
        let question = "Cut inside the seams, or with the seam allowance?";
        let cut = choose(question, PartCut::ALL.to_vec())?;
        part.push(("cut", cut.to_string()));
        if cut == PartCut::Inside {
            let question = "How wide is the seam allowance?";
            part.push(value::<PartOf>("allowance", question, "on each side: 1cm")?);
        }
    }
    Ok(part)
}

fn seam() -> Result<Answers, CommandError> {
    let mut seam = vec![("name", text("Which seam?", "side seam, hem …", filled)?)];
    let help = "301 lockstitch, 504 overlock, back (by hand) …: see ellwand seam --help";
    seam.push(value::<SeamInput>("stitch", "Which stitch?", help)?);
    let help = "of one, for example 62cm; empty for buttonholes and the like";
    seam.extend(maybe::<SeamInput>("length", "How long is it?", help)?);
    let count = optional("How many of it?", "on one garment; empty: 1", counted)?;
    seam.extend(count.map(|count| ("count", count)));
    let help = "for example 4; empty: by the published ratio";
    seam.extend(maybe::<SeamInput>(
        "per-cm",
        "How many stitches in a centimetre?",
        help,
    )?);
    let help = "of all layers together: 0.8mm; empty: by the published ratio";
    seam.extend(maybe::<SeamInput>("thickness", "How thick is it?", help)?);
    Ok(seam)
}

fn operation() -> Result<Answers, CommandError> {
    let name = text("What is done?", "sewing, buttonholes …", filled)?;
    let kind = choose("What kind of work?", WorkKind::ALL.to_vec())?;
    let help = "for all of them together: 2h30";
    Ok(vec![
        ("name", name),
        ("kind", kind.to_string()),
        value::<OperationInput>("planned", "How long will it take?", help)?,
    ])
}
