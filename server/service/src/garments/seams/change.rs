//! Adding, replacing and taking out seams of a plan.

use super::{
    in_seam,
    plan::{allowance, row, typed},
};
use crate::{
    desk::failure::{Done, Refusals, invalid},
    garments::{
        change,
        operation::{check_names, is_same, spelled},
    },
};
use ellwand_contract::{
    Problem, ProblemType,
    garments::{PlanChanges, SeamChange},
    seams::SeamInput,
};
use ellwand_domain::{
    code::GarmentCode,
    quantity::{Micrometres, PartsPerMillion, QuantityError},
    thread::Allowance,
};
use ellwand_storage::{Seam, SeamAllowance, Tx};

/// Changes the seams of a plan; says what changed, for the history.
pub(crate) fn change(tx: &mut Tx<'_>, garment: i64, changes: &PlanChanges) -> Done<Vec<String>> {
    let mut done = Vec::new();
    for name in &changes.drop_seams {
        done.push(drop_seam(tx, garment, name)?);
    }
    let known = tx.seams(garment)?;
    let inputs = known
        .iter()
        .map(|row| typed(&row.seam))
        .collect::<Done<Vec<SeamInput>>>()?;
    let names = changes.seams.iter().map(SeamChange::name);
    check_names("seam", names)?;
    let mut next = known
        .iter()
        .map(|seam| seam.position)
        .max()
        .map_or(0, |last| last.saturating_add(1));
    let mut refusals = Refusals::default();
    for (index, change) in changes.seams.iter().enumerate() {
        let name = spelled(change.name());
        let place = known.iter().find(|known| is_same(&known.name, &name));
        let position = place.map_or(next, |known| known.position);
        let row = changed(garment, &inputs, change, position)
            .map_err(|failure| in_seam(index, &name, failure));
        if let Some(row) = refusals.keep(row)? {
            tx.save_seam(&row)?;
            done.push(format!("seam {}", row.name));
        }
        if place.is_none() {
            next = next.saturating_add(1);
        }
    }
    refusals.end()?;
    let (new_ends, new_waste) = (&changes.seam_ends, &changes.seam_waste);
    if new_ends.is_some() || new_waste.is_some() {
        let before = allowance(tx, garment)?;
        let ends = new_ends.as_deref().map_or(Ok(before.ends), ends)?;
        let waste = new_waste.as_deref().map_or(Ok(before.waste), waste)?;
        tx.save_seam_allowance(&SeamAllowance {
            garment_id: garment,
            ends_um: ends.get(),
            waste_ppm: waste.get(),
        })?;
        done.extend(new_ends.as_ref().map(|ends| format!("seam ends {ends}")));
        done.extend(
            new_waste
                .as_ref()
                .map(|waste| format!("seam waste {waste}")),
        );
    }
    Ok(done)
}

/// The row of a seam as it will be.
fn changed(garment: i64, known: &[SeamInput], change: &SeamChange, position: i64) -> Done<Seam> {
    let name = spelled(change.name());
    if name.is_empty() {
        return Err(invalid(
            "name",
            "a seam needs a name, for example side seam",
        ));
    }
    let mut input = change::seam(GarmentCode::new(garment), known, change)?.normal()?;
    if let Some(known) = known.iter().find(|known| is_same(&known.name, &name)) {
        input.name.clone_from(&known.name);
    }
    row(garment, position, &input)
}

/// Gives a garment the seams of another one.
pub(crate) fn copy(tx: &mut Tx<'_>, from: i64, to: i64) -> Done<()> {
    for seam in tx.seams(from)? {
        tx.save_seam(&Seam {
            garment_id: to,
            ..seam
        })?;
    }
    if let Some(allowance) = tx.seam_allowance(from)? {
        tx.save_seam_allowance(&SeamAllowance {
            garment_id: to,
            ..allowance
        })?;
    }
    Ok(())
}

fn drop_seam(tx: &mut Tx<'_>, garment: i64, name: &str) -> Done<String> {
    let name = spelled(name);
    let known = tx
        .seams(garment)?
        .into_iter()
        .find(|seam| is_same(&seam.name, &name));
    let Some(known) = known else {
        let code = GarmentCode::new(garment);
        return Err(
            Problem::new(ProblemType::NotFound, format!("{code} has no seam {name}"))
                .field("drop_seams")
                .hint(format!("see ellwand garment seams {code} for its seams"))
                .into(),
        );
    };
    tx.delete_seam(garment, &known.name)?;
    Ok(format!("without seam {}", known.name))
}

fn ends(text: &str) -> Done<Micrometres> {
    let read: Micrometres = text
        .parse()
        .map_err(|error: QuantityError| invalid("seam_ends", error.to_string()))?;
    if read > Allowance::ENDS_MAX {
        return Err(invalid(
            "seam_ends",
            format!("a thread end of {text} is too long; 1 m is the most"),
        )
        .with("wanted_um", read.get())
        .with("most_um", Allowance::ENDS_MAX.get()));
    }
    Ok(read)
}

fn waste(text: &str) -> Done<PartsPerMillion> {
    let read: PartsPerMillion = text
        .parse()
        .map_err(|error: QuantityError| invalid("seam_waste", error.to_string()))?;
    if !(PartsPerMillion::ZERO..=PartsPerMillion::WHOLE).contains(&read) {
        return Err(invalid(
            "seam_waste",
            format!("a waste of {text} is not between 0 % and 100 %"),
        )
        .with("wanted_ppm", read.get())
        .with("least_ppm", 0)
        .with("most_ppm", PartsPerMillion::WHOLE.get()));
    }
    Ok(read)
}
