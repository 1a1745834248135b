//! Asks for a plan on a terminal.

use crate::{
    command_error::CommandError,
    ui::prompt::{choose, confirm, optional, text},
};
use chrono::NaiveDate;
use ellwand_contract::{
    Typed,
    garments::{NeedInput, OperationInput, PartInput, PlanGarment},
};
use ellwand_domain::{
    quantity::{Count, Micrometres, Minutes},
    setting::{Grain, Kind, PartCut, TrimUnit, WorkKind},
    shrinkage::Preparation,
};
use std::str::FromStr;
use uuid::Uuid;

const BY_PARTS: &str = "the parts of the shell";
const BY_LENGTH: &str = "a length";

/// A check of a question: what is typed must read as `T`.
fn reads<T: FromStr>(text: &str) -> Result<(), T::Err> {
    text.trim().parse::<T>().map(drop)
}

fn filled(text: &str) -> Result<(), &'static str> {
    if text.trim().is_empty() {
        Err("it needs a name")
    } else {
        Ok(())
    }
}

/// Reads again what a question has checked.
fn again<T: FromStr<Err: ToString>>(answer: &str) -> Result<T, CommandError> {
    answer
        .parse()
        .map_err(|error: T::Err| CommandError::usage(error.to_string()))
}

/// Asks for the head, the needs and the operations.
pub fn plan(id: Uuid, date: Option<NaiveDate>) -> Result<PlanGarment, CommandError> {
    let name = text("What is it?", "for example: work jacket", filled)?;
    let customer = optional(
        "Who is it for?",
        "a name or a code; empty: for stock",
        |_| Ok::<(), &str>(()),
    )?;
    let count = optional("How many?", "empty: 1", reads::<Count>)?;
    let due = optional(
        "When is it due?",
        "2026-10-15; empty: no date",
        reads::<NaiveDate>,
    )?;
    let count = count
        .map(|answer| again::<Count>(&answer))
        .transpose()?
        .map_or(1, Count::get);
    let due = due.map(|answer| again(&answer)).transpose()?;
    let mut needs = Vec::new();
    while confirm(if needs.is_empty() {
        "Add a need?"
    } else {
        "Another need?"
    })? {
        needs.push(need()?);
    }
    let mut operations = Vec::new();
    while confirm(if operations.is_empty() {
        "Add an operation?"
    } else {
        "Another operation?"
    })? {
        operations.push(operation()?);
    }
    Ok(PlanGarment {
        id,
        check: false,
        name,
        customer,
        count,
        due,
        note: None,
        needs,
        operations,
        seams: Vec::new(),
        seam_ends: None,
        seam_waste: None,
        date,
    })
}

fn need() -> Result<NeedInput, CommandError> {
    let role = text("What is it for?", "shell, lining, buttons …", filled)?;
    let kind = choose("What kind?", Kind::ALL.to_vec())?;
    let mut need = NeedInput {
        role,
        kind: Some(kind),
        ..NeedInput::default()
    };
    let counted = kind == Kind::Trim
        && choose("Counted or measured?", TrimUnit::ALL.to_vec())? == TrimUnit::Count;
    if counted {
        let count = text(
            "How many does one garment need?",
            "for example: 7",
            reads::<Count>,
        )?;
        need.count = Some(again::<Count>(&count)?.get());
        return Ok(need);
    }
    if kind == Kind::Interlining
        && choose("How do you measure it?", vec![BY_PARTS, BY_LENGTH])? == BY_PARTS
    {
        need.preparation = Some(preparation()?);
        while need.parts.is_empty() || confirm("Another part?")? {
            need.parts.push(part()?);
        }
        return Ok(need);
    }
    let (question, example) = match kind.is_rectangle() {
        true => (
            "What length must be left after the preparation?",
            "for one garment, for example: 2.60m",
        ),
        false => ("What length does one garment need?", "for example: 180m"),
    };
    need.length = Some(text(question, example, reads::<Micrometres>)?);
    if kind.is_rectangle() {
        need.width = Some(text(
            "At what usable width?",
            "for example: 140cm",
            reads::<Micrometres>,
        )?);
        need.preparation = Some(preparation()?);
    }
    Ok(need)
}

fn preparation() -> Result<Preparation, CommandError> {
    let help =
        "washed, washed x3, steamed, none to cut it as it is, or raw if it must never get wet";
    again(&text("How is it prepared?", help, reads::<Preparation>)?)
}

fn part() -> Result<PartInput, CommandError> {
    let name = text("Which part?", "collar, stand, front …", filled)?;
    let count = optional(
        "How many does one garment have?",
        "empty: 1",
        reads::<Count>,
    )?;
    let length = text(
        "How long is the shell part as it is cut?",
        "for example: 46cm",
        reads::<Micrometres>,
    )?;
    let width = text("How wide?", "for example: 12cm", reads::<Micrometres>)?;
    let grain = choose("Which grain runs along its length?", Grain::ALL.to_vec())?;
    let cut = choose(
        "Cut inside the seams, or with the seam allowance?",
        PartCut::ALL.to_vec(),
    )?;
    let allowance = match cut {
        PartCut::Inside => Some(text(
            "How wide is the seam allowance?",
            "for example: 1cm",
            reads::<Micrometres>,
        )?),
        PartCut::With => None,
    };
    Ok(PartInput {
        name,
        count: count
            .map(|answer| again::<Count>(&answer))
            .transpose()?
            .map_or(1, Count::get),
        length,
        width,
        measures: None,
        allowance,
        cut: Some(cut),
        grain: Some(grain),
    })
}

fn operation() -> Result<OperationInput, CommandError> {
    let name = text("Which operation?", "sewing, hem …", filled)?;
    let kind = choose("What kind?", WorkKind::ALL.to_vec())?;
    let planned = text(
        "How long, for all of them?",
        "for example: 2h30",
        reads::<Minutes>,
    )?;
    let person = optional(
        "Who does it?",
        "a person with a pay rate; empty: owner",
        |_| Ok::<(), &str>(()),
    )?;
    let planned = again::<Typed<Minutes>>(&planned)?;
    Ok(OperationInput {
        name,
        kind,
        planned,
        person,
        billable: true,
        detail: None,
    })
}
