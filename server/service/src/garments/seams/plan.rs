//! The seams of a plan as the book holds them.

use crate::{
    desk::failure::{Done, invalid},
    garments::{need::NeedRecord, operation::is_same},
};
use ellwand_contract::{
    Metres, Problem, ProblemType,
    garments::NeedInput,
    seams::{SeamInput, refused},
};
use ellwand_domain::{
    quantity::{Micrometres, PartsPerMillion},
    setting::Kind,
    thread::{Allowance, SeamPlan},
};
use ellwand_storage::{Need, Seam, Tx};

/// Seams of a plan with the thread they take.
#[derive(Debug, Clone)]
pub(crate) struct Planned {
    /// As asked for, in the order of the plan.
    pub(crate) inputs: Vec<SeamInput>,
    pub(crate) plan: SeamPlan,
}

impl Planned {
    /// The seams of a garment.
    pub(crate) fn load(tx: &mut Tx<'_>, garment: i64) -> Done<Self> {
        let rows = tx.seams(garment)?;
        let inputs = rows
            .iter()
            .map(|row| typed(&row.seam))
            .collect::<Done<Vec<SeamInput>>>()?;
        Self::of(inputs, allowance(tx, garment)?)
    }

    /// Seams that are spelled as the book does.
    fn of(inputs: Vec<SeamInput>, allowance: Allowance) -> Done<Self> {
        let seams = inputs
            .iter()
            .map(SeamInput::roles)
            .collect::<Result<_, _>>()?;
        Ok(Self {
            inputs,
            plan: SeamPlan { seams, allowance },
        })
    }

    /// Thread of a role that some of the seams take for one garment, ends and waste included; none where none of them names it.
    pub(crate) fn thread(
        &self,
        role: &str,
        which: impl Fn(&SeamInput) -> bool,
    ) -> Done<Option<Micrometres>> {
        let pairs = self.inputs.iter().zip(&self.plan.seams);
        let seams = pairs
            .filter(|(input, _)| which(input))
            .map(|(_, seam)| seam.clone())
            .collect();
        let some = SeamPlan {
            seams,
            allowance: self.plan.allowance,
        };
        Ok(some
            .sum(role)
            .map_err(|error| refused(&error))?
            .map(|sum| sum.total))
    }

    /// A need whose length comes from the seams, with it; others as they are.
    pub(crate) fn filled(&self, need: &NeedInput) -> Done<NeedInput> {
        let mut need = need.clone();
        if !need.seams || need.kind.is_some_and(|kind| kind != Kind::Thread) {
            return Ok(need);
        }
        if need.length.is_some() {
            return Err(invalid(
                "length",
                "the length comes from the seams; leave it out, or seams=yes",
            ));
        }
        let role = need.role.trim();
        let Some(sum) = self.plan.sum(role).map_err(|error| refused(&error))? else {
            let detail = format!(
                "no seam takes its thread from the role {role}, so there is nothing to add up"
            );
            let hint = format!(
                "add --seam 'name=side seam,length=62cm,count=2,stitch=301,needle={role}', or give a length"
            );
            return Err(Problem::from(invalid("seams", detail)).hint(hint).into());
        };
        need.length = Some(format!("{} m", Metres(sum.total)));
        Ok(need)
    }

    /// A stored need whose length comes from the seams, with the length of today; nothing when it is that already.
    pub(crate) fn renewed(&self, stored: &NeedRecord) -> Done<Option<NeedInput>> {
        if !stored.plan.seams() {
            return Ok(None);
        }
        let stored = stored.to_input();
        let filled = self.filled(&NeedInput {
            length: None,
            ..stored.clone()
        })?;
        Ok((filled.length != stored.length).then_some(filled))
    }

    /// Refuses seams whose thread no need of the plan is.
    pub(crate) fn check(&self, tx: &mut Tx<'_>, garment: i64) -> Done<()> {
        let needs: Vec<Need> = tx
            .needs(garment)?
            .into_iter()
            .filter(|need| !need.dropped)
            .collect();
        for role in self.plan.roles() {
            let found = needs.iter().find(|need| is_same(&need.role, &role));
            if found.is_some_and(|need| need.kind == Kind::Thread) {
                continue;
            }
            let seam = self.naming(&role).unwrap_or_default();
            let why = match found {
                Some(need) => format!("the need {} is {}", need.role, need.kind),
                None => "the plan has no such need".to_owned(),
            };
            let threads = needs
                .iter()
                .filter(|need| need.kind == Kind::Thread)
                .map(|need| need.role.as_str());
            let threads = threads.collect::<Vec<_>>().join(", ");
            let has = if threads.is_empty() {
                "it has no thread".to_owned()
            } else {
                format!("its thread needs are {threads}")
            };
            let detail = format!("{seam} takes its thread from the role {role}, but {why}; {has}");
            let hint = format!(
                "add --need 'role={role},kind=thread,seams=yes', or choose another role in the seam"
            );
            return Err(Problem::from(invalid("seam", detail)).hint(hint).into());
        }
        Ok(())
    }

    /// The first seam that takes thread from a role.
    fn naming(&self, role: &str) -> Option<String> {
        let pairs = self.inputs.iter().zip(&self.plan.seams);
        let mut named =
            pairs.filter(|(_, seam)| is_same(&seam.needle, role) || is_same(&seam.under, role));
        named.next().map(|(input, _)| input.name.clone())
    }
}

/// What is added to the thread of a garment's seams.
pub(super) fn allowance(tx: &mut Tx<'_>, garment: i64) -> Done<Allowance> {
    Ok(match tx.seam_allowance(garment)? {
        Some(row) => Allowance {
            ends: Micrometres::new(row.ends_um)?,
            waste: PartsPerMillion::new(row.waste_ppm)?,
        },
        None => Allowance::USUAL,
    })
}

pub(super) fn typed(json: &str) -> Done<SeamInput> {
    serde_json::from_str(json).map_err(|error| {
        Problem::new(
            ProblemType::Internal,
            format!("a stored seam cannot be read: {error}"),
        )
        .into()
    })
}

/// The row of a seam that is spelled as the book does.
pub(super) fn row(garment: i64, position: i64, input: &SeamInput) -> Done<Seam> {
    let roles = input.roles()?;
    let seam = serde_json::to_string(input)
        .map_err(|error| Problem::new(ProblemType::Internal, error.to_string()))?;
    Ok(Seam {
        garment_id: garment,
        name: input.name.clone(),
        position,
        stitch: input.stitch.clone(),
        count: input.count,
        length_um: input.length_of_one()?.map(Micrometres::get),
        needle: roles.needle,
        under: roles.under,
        seam,
        detail: input.detail.clone(),
    })
}
