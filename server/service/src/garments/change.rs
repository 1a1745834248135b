//! Only what differs: a change put over what the plan has.

use super::{
    need::NeedRecord,
    operation::{is_same, spelled},
};
use crate::desk::{
    failure::{Done, Failure, invalid},
    person::PeopleNames,
};
use ellwand_contract::{
    Problem, ProblemType,
    garments::{
        Change, Changeable, NeedChange, NeedInput, OperationChange, OperationInput, PartChange,
        PartName, SeamChange,
    },
    seams::SeamInput,
    text::nearest,
};
use ellwand_domain::{code::GarmentCode, setting::Kind};
use ellwand_storage::{Operation, Tx};

/// The need as it will be. `drop` are the parts of it that go.
pub(super) fn need(
    garment: GarmentCode,
    known: &[NeedRecord],
    change: &NeedChange,
    drop: &[&PartName],
) -> Done<NeedInput> {
    let mut change = change.clone();
    let parts = change.take_parts().map_err(|error| unreadable(&error))?;
    let found = known
        .iter()
        .find(|known| is_same(&known.row.role, &spelled(change.name())));
    let mut input = match found {
        Some(found) => over(&base(found), &change)?,
        None => {
            let whole = change.whole().map_err(|error| unreadable(&error))?;
            let missing = missing(&whole, !parts.is_empty());
            let roles = known.iter().map(|known| known.row.role.as_str());
            check_whole(&format!("{garment} has"), &change, missing, roles)?;
            whole
        }
    };
    input.role = spelled(change.name());
    for part in drop {
        let before = input.parts.len();
        input
            .parts
            .retain(|known| !is_same(&known.name, &spelled(&part.name)));
        if input.parts.len() == before {
            let name = spelled(&part.name);
            let names = input.parts.iter().map(|known| known.name.as_str());
            return Err(none_of(
                "part",
                &format!("the {} has", input.role),
                &name,
                names,
            ));
        }
    }
    for (index, part) in parts.iter().enumerate() {
        change_part(&mut input, part).map_err(|failure| in_part(index, failure))?;
    }
    Ok(input)
}

/// That a lay of the maker's own stays as it is, though its parts change.
pub(super) fn own_lay_stays(
    change: &NeedChange,
    drop: &[&PartName],
    now: &NeedInput,
) -> Option<String> {
    let changed = change.gives("part") || !drop.is_empty();
    let length = now
        .length
        .as_ref()
        .filter(|_| changed && !change.gives("length"))?;
    let at = now
        .width
        .as_ref()
        .map_or_else(String::new, |width| format!(" at {width}"));
    Some(format!(
        "{}: its own length stays {length}{at}, though its parts changed; to follow them, clear it with length=,width=",
        now.role
    ))
}

/// The operation as it will be.
pub(super) fn operation(
    tx: &mut Tx<'_>,
    garment: GarmentCode,
    known: &[Operation],
    change: &OperationChange,
) -> Done<OperationInput> {
    let name = spelled(change.name());
    let Some(found) = known.iter().find(|known| is_same(&known.name, &name)) else {
        let names = known.iter().map(|known| known.name.as_str());
        check_whole(&format!("{garment} has"), change, change.missing(), names)?;
        return change.whole().map_err(|error| unreadable(&error));
    };
    let known = OperationInput {
        name: found.name.clone(),
        kind: found.kind,
        planned: format!("{}min", found.minutes)
            .parse()
            .map_err(|error| invalid("planned", format!("{error}")))?,
        person: Some(PeopleNames::of(tx)?.name(found.person_id)),
        billable: found.billable,
        detail: found.detail.clone(),
    };
    over(&known, change)
}

/// The seam as it will be.
pub(in crate::garments) fn seam(
    garment: GarmentCode,
    known: &[SeamInput],
    change: &SeamChange,
) -> Done<SeamInput> {
    let name = spelled(change.name());
    let Some(found) = known.iter().find(|known| is_same(&known.name, &name)) else {
        let names = known.iter().map(|known| known.name.as_str());
        check_whole(&format!("{garment} has"), change, change.missing(), names)?;
        return change.whole().map_err(|error| unreadable(&error));
    };
    // An under thread that is the needle's follows it.
    let under = found.under.clone().filter(|_| found.under != found.needle);
    let known = SeamInput {
        under,
        ..found.clone()
    };
    over(&known, change)
}

/// The need as the plan says it. What follows from the rest is left out, so that it follows the change too.
fn base(known: &NeedRecord) -> NeedInput {
    let mut input = known.to_input();
    if input.seams {
        input.length = None;
    }
    for part in &mut input.parts {
        part.grain = part.grain.filter(|grain| input.grain != Some(*grain));
    }
    input
}

fn change_part(need: &mut NeedInput, change: &PartChange) -> Done<()> {
    let name = spelled(change.name());
    let found = need
        .parts
        .iter_mut()
        .find(|known| is_same(&known.name, &name));
    if let Some(found) = found {
        *found = over(found, change)?;
        return Ok(());
    }
    let names = need.parts.iter().map(|known| known.name.as_str());
    check_whole(
        &format!("the {} has", need.role),
        change,
        change.missing(),
        names,
    )?;
    need.parts
        .push(change.whole().map_err(|error| unreadable(&error))?);
    Ok(())
}

fn over<T: Changeable>(known: &T, change: &Change<T>) -> Done<T> {
    let cleared = T::NEEDED.iter().map(|(field, _)| *field);
    let mut cleared = cleared.filter(|field| change.fields().any(|given| given == *field));
    if let Some(field) = cleared.find(|field| !change.gives(field)) {
        let (what, key) = (T::WHAT, field.replace('_', "-"));
        let detail = format!(
            "{} cannot be without {key}: every {what} has it",
            change.name()
        );
        return Err(Problem::from(invalid(field, detail))
            .hint(format!("leave {key} out to keep it, or give another one"))
            .into());
    }
    change.over(known).map_err(|error| unreadable(&error))
}

/// What a new need lacks.
fn missing(need: &NeedInput, parts: bool) -> Vec<&'static str> {
    let mut missing = Vec::new();
    if need.kind.is_none() && need.material.is_none() && need.lot.is_none() {
        missing.push("kind");
    }
    let amount = need.length.is_some()
        || !need.widths.is_empty()
        || parts
        || need.count.is_some()
        || need.seams;
    if !amount {
        missing.push(match need.kind {
            Some(Kind::Trim) => "count",
            _ => "length",
        });
    }
    missing
}

/// Refuses a change of what the plan does not have that is not whole.
fn check_whole<'k, T: Changeable>(
    has: &str,
    change: &Change<T>,
    missing: Vec<&str>,
    known: impl Iterator<Item = &'k str>,
) -> Done<()> {
    if missing.is_empty() {
        return Ok(());
    }
    let missing: Vec<String> = missing.iter().map(|key| key.replace('_', "-")).collect();
    let keys = missing.join(" and ");
    match none_of(T::WHAT, has, &spelled(change.name()), known) {
        Failure::Refused(mut problem) => {
            problem.detail = format!("{}; a new one needs {keys}", problem.detail);
            problem.field = Some(T::NAME.to_owned());
            Err(problem.into())
        }
        stopped @ Failure::Storage(_) => Err(stopped),
    }
}

/// That there is none of a name, and which there are.
fn none_of<'k>(what: &str, has: &str, name: &str, known: impl Iterator<Item = &'k str>) -> Failure {
    let known: Vec<String> = known.map(str::to_owned).collect();
    let problem = Problem::new(ProblemType::NotFound, format!("{has} no {what} {name}"));
    let all = known.join(", ");
    let hint = match nearest(name, &known) {
        Some(near) => format!("did you mean {near}? {has} {all}"),
        None if known.is_empty() => return problem.into(),
        None => format!("{has} {all}"),
    };
    problem.hint(hint).into()
}

fn in_part(index: usize, failure: Failure) -> Failure {
    match failure {
        Failure::Refused(mut problem) => {
            let field = problem.field.unwrap_or_else(|| "name".to_owned());
            problem.field = Some(format!("part[{index}].{field}"));
            Failure::Refused(problem)
        }
        stopped @ Failure::Storage(_) => stopped,
    }
}

fn unreadable(error: &serde_json::Error) -> Failure {
    Problem::new(ProblemType::InvalidRequest, error.to_string()).into()
}
