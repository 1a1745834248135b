//! Planned operations.

use crate::{
    desk::{
        Desk,
        failure::{Done, invalid},
        person::{self, OWNER},
    },
    people::parties::clean_name,
};
pub(crate) use ellwand_contract::text::spelled;

use ellwand_contract::garments::OperationInput;
use ellwand_domain::quantity::{Minutes, exact};
use ellwand_storage::Operation;

/// True for the same name, whatever its capitals.
pub(crate) fn is_same(one: &str, other: &str) -> bool {
    one.to_lowercase() == other.to_lowercase()
}

/// Reads an operation; `index` is its place in the request.
pub(super) fn read(
    desk: &mut Desk<'_>,
    (garment, position): (i64, i64),
    index: usize,
    input: &OperationInput,
) -> Done<Operation> {
    let name = spelled(&input.name);
    if name.is_empty() {
        return Err(invalid(
            &format!("operation[{index}].name"),
            "an operation needs a name, for example sewing",
        ));
    }
    let minutes = input.planned.value().get();
    if minutes == 0 {
        let detail = format!("{name} is planned with no time; plan more than zero or leave it out");
        return Err(invalid(&format!("operation[{index}].planned"), detail)
            .with("wanted_minutes", 0)
            .with("least_minutes", 1));
    }
    let field = format!("operation[{index}].detail");
    let detail = input
        .detail
        .as_deref()
        .map(|detail| clean_name(&field, detail))
        .transpose()?;
    let planned_for = input
        .person
        .as_deref()
        .map(spelled)
        .filter(|person| !person.is_empty());
    let person = match planned_for {
        Some(name) => person::find_by_name(desk, &format!("operation[{index}].person"), &name)?,
        // The hours count as the owner's do, whoever will work them.
        None => person::find_or_make(&mut desk.tx, "person", OWNER, false, desk.context.made())?,
    };
    Ok(Operation {
        garment_id: garment,
        name,
        position,
        kind: input.kind,
        minutes,
        person_id: person.id,
        billable: input.billable,
        detail,
    })
}

/// Refuses a name that stands in a list of the request twice.
pub(super) fn check_names<'n>(list: &str, names: impl Iterator<Item = &'n str>) -> Done<()> {
    let mut before: Vec<String> = Vec::new();
    for (index, name) in names.map(spelled).enumerate() {
        if before.iter().any(|known| is_same(known, &name)) {
            let (key, what) = match list {
                "need" => ("role", "the role "),
                "seam" => ("name", "the seam "),
                _ => ("name", ""),
            };
            let detail = format!("{what}{name} is in the plan twice");
            return Err(invalid(&format!("{list}[{index}].{key}"), detail));
        }
        before.push(name);
    }
    Ok(())
}

/// The minutes of a batch of `to` where they were planned for `from`, rounded up.
pub(super) fn scaled(minutes: i64, from: i64, to: i64) -> Done<i64> {
    Ok(Minutes::new(exact::mul_div_ceil(minutes, to, from)?)?.get())
}
