//! Adding, replacing and taking out seams of a plan.

use super::{
    in_seam,
    plan::{allowance, row},
};
use crate::{
    desk::failure::{Done, invalid},
    garments::operation::{is_same, spelled},
};
use ellwand_contract::{
    Problem, ProblemType,
    garments::{EditGarment, PlanGarment},
    seams::SeamInput,
};
use ellwand_domain::{
    code::GarmentCode,
    quantity::{Micrometres, PartsPerMillion, QuantityError},
    thread::Allowance,
};
use ellwand_storage::{Seam, SeamAllowance, Tx};

/// What a request says of seams.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Change<'a> {
    seams: &'a [SeamInput],
    drop: &'a [String],
    ends: Option<&'a str>,
    waste: Option<&'a str>,
}

impl<'a> From<&'a PlanGarment> for Change<'a> {
    fn from(request: &'a PlanGarment) -> Self {
        Self {
            seams: &request.seams,
            drop: &[],
            ends: request.seam_ends.as_deref(),
            waste: request.seam_waste.as_deref(),
        }
    }
}

impl<'a> From<&'a EditGarment> for Change<'a> {
    fn from(request: &'a EditGarment) -> Self {
        Self {
            seams: &request.seams,
            drop: &request.drop_seams,
            ends: request.seam_ends.as_deref(),
            waste: request.seam_waste.as_deref(),
        }
    }
}

impl Change<'_> {
    /// True when nothing is said of them.
    pub(crate) const fn is_nothing(&self) -> bool {
        self.seams.is_empty() && self.drop.is_empty() && self.ends.is_none() && self.waste.is_none()
    }
}

/// Changes the seams of a plan; says what changed, for the history.
pub(crate) fn change(tx: &mut Tx<'_>, garment: i64, change: Change<'_>) -> Done<Vec<String>> {
    let mut changes = Vec::new();
    for name in change.drop {
        changes.push(drop_seam(tx, garment, name)?);
    }
    let known = tx.seams(garment)?;
    let mut next = known
        .iter()
        .map(|seam| seam.position)
        .max()
        .map_or(0, |last| last.saturating_add(1));
    for (index, input) in change.seams.iter().enumerate() {
        let name = spelled(&input.name);
        if name.is_empty() {
            let detail = "a seam needs a name, for example side seam";
            return Err(invalid(&format!("seam[{index}].name"), detail));
        }
        if change
            .seams
            .iter()
            .take(index)
            .any(|other| is_same(&spelled(&other.name), &name))
        {
            return Err(invalid(
                &format!("seam[{index}].name"),
                format!("the seam {name} is in the plan twice"),
            ));
        }
        let name_seam = |failure| in_seam(index, &name, failure);
        let mut input = input
            .normal()
            .map_err(|problem| name_seam(problem.into()))?;
        let position = match known.iter().find(|known| is_same(&known.name, &name)) {
            Some(known) => {
                input.name.clone_from(&known.name);
                known.position
            }
            None => {
                let position = next;
                next = next.saturating_add(1);
                position
            }
        };
        tx.save_seam(&row(garment, position, &input).map_err(name_seam)?)?;
        changes.push(format!("seam {}", input.name));
    }
    if change.ends.is_some() || change.waste.is_some() {
        let before = allowance(tx, garment)?;
        let ends = change.ends.map_or(Ok(before.ends), ends)?;
        let waste = change.waste.map_or(Ok(before.waste), waste)?;
        tx.save_seam_allowance(&SeamAllowance {
            garment_id: garment,
            ends_um: ends.get(),
            waste_ppm: waste.get(),
        })?;
        changes.extend(change.ends.map(|ends| format!("seam ends {ends}")));
        changes.extend(change.waste.map(|waste| format!("seam waste {waste}")));
    }
    Ok(changes)
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
