//! What an option leaves out of the plan, by the name of a detail, a need or an operation.

use crate::{
    desk::failure::{Done, Failure, invalid},
    garments::{
        need::load_head,
        operation::{is_same, spelled},
    },
};
use ellwand_contract::{Problem, options::OptionInput};
use ellwand_domain::code::GarmentCode;
use ellwand_storage::{Need, Operation, Seam, Tx};

/// What an option leaves out.
#[derive(Default)]
pub(in crate::money::quotations) struct LeftOut {
    pub(in crate::money::quotations) roles: Vec<String>,
    pub(in crate::money::quotations) operations: Vec<String>,
    pub(in crate::money::quotations) seams: Vec<String>,
}

/// Roles, operations and seams that an option leaves out.
pub(in crate::money::quotations) fn left_out(
    tx: &mut Tx<'_>,
    code: GarmentCode,
    option: &OptionInput,
) -> Done<LeftOut> {
    let garment = load_head(tx, code)?;
    let mut needs = tx.needs(garment.id)?;
    needs.retain(|need| !need.dropped);
    let plan = Plan {
        needs,
        operations: tx.operations(garment.id)?,
        seams: tx.seams(garment.id)?,
    };
    let mut out = LeftOut::default();
    for text in &option.without {
        plan.leave_out(code, text, &mut out)?;
    }
    for list in [&mut out.roles, &mut out.operations, &mut out.seams] {
        list.sort();
        list.dedup();
    }
    Ok(out)
}

/// What a plan has that can be left out.
struct Plan {
    needs: Vec<Need>,
    operations: Vec<Operation>,
    seams: Vec<Seam>,
}

impl Plan {
    /// Finds what a text means: a detail, a need or an operation, which may be said before it.
    fn leave_out(&self, code: GarmentCode, text: &str, out: &mut LeftOut) -> Done<()> {
        let (what, name) = match text.split_once(':') {
            Some((what, name)) if ["detail", "need", "operation"].contains(&what.trim()) => {
                (Some(what.trim()), spelled(name))
            }
            _ => (None, spelled(text)),
        };
        let of = |kind: &str| what.is_none_or(|what| what == kind);
        let has = |detail: &Option<String>| {
            of("detail") && detail.as_ref().is_some_and(|detail| is_same(detail, &name))
        };
        let named = |kind: &str, own: &str| of(kind) && is_same(own, &name);
        let need = self.needs.iter().find(|need| named("need", &need.role));
        let mut operations = self.operations.iter();
        let operation = operations.find(|row| named("operation", &row.name));
        let detail = self.details().any(has);
        match (detail, need, operation) {
            (false, None, None) => {
                let names = self.needs.iter().map(|need| &need.role);
                let names = names.chain(self.operations.iter().map(|row| &row.name));
                let known = each_once(self.details().flatten().chain(names));
                return Err(unknown(code, text, &known));
            }
            (true, None, None) => {
                let needs = self.needs.iter().filter(|row| has(&row.detail));
                out.roles.extend(needs.map(|row| row.role.clone()));
                let operations = self.operations.iter().filter(|row| has(&row.detail));
                out.operations
                    .extend(operations.map(|row| row.name.clone()));
                let seams = self.seams.iter().filter(|row| has(&row.detail));
                out.seams.extend(seams.map(|row| row.name.clone()));
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
                let detail = format!("{code} has more than one {name}");
                let hint = format!("choose {}", kinds.join(" or "));
                return Err(Problem::from(invalid("without", detail)).hint(hint).into());
            }
        }
        Ok(())
    }

    /// The details that needs, operations and seams belong to.
    fn details(&self) -> impl Iterator<Item = &Option<String>> {
        let needs = self.needs.iter().map(|row| &row.detail);
        let operations = self.operations.iter().map(|row| &row.detail);
        needs
            .chain(operations)
            .chain(self.seams.iter().map(|row| &row.detail))
    }
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
    let detail = format!("{code} has no detail, need or operation {text} to leave out");
    let hint = match known {
        [] => format!("the plan of {code} is empty"),
        known => format!("choose from {}", known.join(", ")),
    };
    Problem::from(invalid("without", detail)).hint(hint).into()
}
