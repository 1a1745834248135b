//! What an option leaves out of the plan, by the name of a detail, a need or an operation.

use crate::{
    failure::{Done, Failure, invalid},
    garments::{
        need::load_head,
        operation::{is_same, spelled},
    },
};
use ellwand_contract::{Problem, options::OptionInput};
use ellwand_domain::code::GarmentCode;
use ellwand_storage::Tx;

/// What an option leaves out.
#[derive(Default)]
pub(super) struct LeftOut {
    pub(super) roles: Vec<String>,
    pub(super) operations: Vec<String>,
    pub(super) seams: Vec<String>,
}

/// Roles, operations and seams that an option leaves out.
pub(super) fn left_out(tx: &mut Tx<'_>, code: GarmentCode, option: &OptionInput) -> Done<LeftOut> {
    let garment = load_head(tx, code)?;
    let needs: Vec<_> = tx
        .needs(garment.id)?
        .into_iter()
        .filter(|need| !need.dropped)
        .collect();
    let (operations, seams) = (tx.operations(garment.id)?, tx.seams(garment.id)?);
    let mut out = LeftOut::default();
    for text in &option.without {
        let (what, name) = match text.split_once(':') {
            Some((what, name)) if ["detail", "need", "operation"].contains(&what.trim()) => {
                (Some(what.trim()), spelled(name))
            }
            _ => (None, spelled(text)),
        };
        let of = |kind: &str| what.is_none_or(|what| what == kind);
        let has =
            |detail: &Option<String>| detail.as_ref().is_some_and(|detail| is_same(detail, &name));
        let detail = of("detail")
            && (needs.iter().any(|need| has(&need.detail))
                || operations.iter().any(|row| has(&row.detail))
                || seams.iter().any(|row| has(&row.detail)));
        let need = needs
            .iter()
            .find(|need| of("need") && is_same(&need.role, &name));
        let operation = operations
            .iter()
            .find(|row| of("operation") && is_same(&row.name, &name));
        match (detail, need, operation) {
            (false, None, None) => {
                let details = needs.iter().map(|need| &need.detail);
                let details = details.chain(operations.iter().map(|row| &row.detail));
                let details = details.chain(seams.iter().map(|row| &row.detail)).flatten();
                let others = needs.iter().map(|need| &need.role);
                let others = others.chain(operations.iter().map(|row| &row.name));
                return Err(unknown(code, text, &each_once(details.chain(others))));
            }
            (true, None, None) => {
                out.roles.extend(
                    needs
                        .iter()
                        .filter(|need| has(&need.detail))
                        .map(|need| need.role.clone()),
                );
                let rows = operations.iter().filter(|row| has(&row.detail));
                out.operations.extend(rows.map(|row| row.name.clone()));
                out.seams.extend(
                    seams
                        .iter()
                        .filter(|row| has(&row.detail))
                        .map(|row| row.name.clone()),
                );
            }
            (false, Some(need), None) => out.roles.push(need.role.clone()),
            (false, None, Some(operation)) => out.operations.push(operation.name.clone()),
            (detail, need, operation) => {
                let kinds = [
                    (detail, "detail"),
                    (need.is_some(), "need"),
                    (operation.is_some(), "operation"),
                ];
                let kinds = kinds.into_iter().filter(|(there, _)| *there);
                let kinds: Vec<String> = kinds.map(|(_, kind)| format!("{kind}:{name}")).collect();
                let detail = format!("{name} is more than one thing of {code}");
                let hint = format!("say which: {}", kinds.join(" or "));
                return Err(Problem::from(invalid("without", detail)).hint(hint).into());
            }
        }
    }
    for list in [&mut out.roles, &mut out.operations, &mut out.seams] {
        list.sort();
        list.dedup();
    }
    Ok(out)
}

/// Names, each once whatever its capitals.
fn each_once<'a>(names: impl Iterator<Item = &'a String>) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for name in names {
        if !all.iter().any(|known| is_same(known, name)) {
            all.push(name.clone());
        }
    }
    all
}

fn unknown(code: GarmentCode, text: &str, known: &[String]) -> Failure {
    let detail = format!("{code} has no detail, need or operation {text} that could be left out");
    let hint = match known {
        [] => format!("the plan of {code} is empty"),
        known => format!("there is {}", known.join(", ")),
    };
    Problem::from(invalid("without", detail)).hint(hint).into()
}
