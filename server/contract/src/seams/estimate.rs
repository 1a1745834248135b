//! What seams and their thread come to: arithmetic alone, so that no book is needed for it.

use super::{Seam, SeamInput, Seams, SeamsThread, refused};
use crate::{Metres, Problem, text::spelled};
use ellwand_domain::{
    quantity::{PartsPerMillion, Units},
    thread::{Allowance, Method, RoleSum, Roles, SeamPlan, Split},
};

/// The least and the most of the published shares of waste.
const PUBLISHED_WASTE_PPM: (i64, i64) = (100_000, 200_000);

impl SeamInput {
    /// What thread the seam takes, without a garment, with the usual ends and waste.
    ///
    /// # Errors
    /// A figure that cannot be read, or is missing; names its field.
    pub fn estimate(&self, units: Units) -> Result<Seams, Box<Problem>> {
        let mut input = self.normal()?;
        input.name = spelled(&self.name);
        let plan = SeamPlan {
            seams: vec![input.roles()?],
            allowance: Allowance::USUAL,
        };
        estimate(&[input], &plan, units)
    }
}

/// Seams that are in one spelling, with what each thread of the plan comes to for one garment.
///
/// # Errors
/// Lengths beyond what is counted.
pub fn estimate(
    inputs: &[SeamInput],
    plan: &SeamPlan,
    units: Units,
) -> Result<Seams, Box<Problem>> {
    let allowance = plan.allowance;
    let mut threads = Vec::new();
    for role in plan.roles() {
        if let Some(sum) = plan.sum(&role).map_err(|error| refused(&error))? {
            threads.push(thread(units, &sum, allowance)?);
        }
    }
    Ok(Seams {
        garment: None,
        name: None,
        seams: inputs
            .iter()
            .zip(&plan.seams)
            .map(|(input, seam)| row(units, input, seam))
            .collect(),
        notes: notes(&plan.seams, &threads, units),
        threads,
        ends_m: Metres(allowance.ends),
        waste_percent: allowance.waste.decimal(),
        version: None,
    })
}

fn row(units: Units, input: &SeamInput, roles: &Roles) -> Seam {
    let thread = &roles.thread;
    let (needle_m, under_m) = match thread.split {
        Split::Unknown => (None, None),
        Split::OneThread => (Some(thread.needle), None),
        _ => (Some(thread.needle), Some(thread.under)),
    };
    Seam {
        seam: input.clone(),
        stitch_name: thread.seam.stitch.describe(),
        length_m: thread.run.map(Metres),
        per_m: thread.ratio.map(|ratio| ratio.decimal_up()),
        method: thread.method.word().to_owned(),
        basis: thread.basis(),
        certainty: thread.method.certainty(),
        needle: roles.needle.clone(),
        under: (thread.split != Split::OneThread).then(|| roles.under.clone()),
        needle_m: needle_m.map(Metres),
        under_m: under_m.map(Metres),
        shared: thread.shared(),
        total_m: Metres(thread.total),
        step: thread.step(units),
    }
}

fn thread(units: Units, sum: &RoleSum, allowance: Allowance) -> Result<SeamsThread, Box<Problem>> {
    let sewn = sum
        .sum
        .plus(sum.ends)
        .map_err(|error| refused(&error.into()))?;
    let with = |ppm: i64| -> Result<Metres, Box<Problem>> {
        let waste = PartsPerMillion::new(ppm).map_err(|error| refused(&error.into()))?;
        let other = Allowance { waste, ..allowance };
        Ok(Metres(
            other.with_waste(sewn).map_err(|error| refused(&error))?,
        ))
    };
    Ok(SeamsThread {
        role: sum.role.clone(),
        seams_m: Metres(sum.sum),
        tails: sum.tails,
        ends_m: Metres(sum.ends),
        waste_m: Metres(sum.waste),
        total_m: Metres(sum.total),
        low_m: with(PUBLISHED_WASTE_PPM.0)?,
        high_m: with(PUBLISHED_WASTE_PPM.1)?,
        steps: sum.steps(allowance, units),
    })
}

fn notes(seams: &[Roles], threads: &[SeamsThread], units: Units) -> Vec<String> {
    let mut notes: Vec<String> = Vec::new();
    let by = |method: Method| seams.iter().any(|seam| seam.thread.method == method);
    if by(Method::Ratio) {
        notes.push(
            "ratios hold for about 7 stitches/cm and thin cloth; closer stitches and thicker cloth take more"
                .to_owned(),
        );
    }
    if by(Method::Formula) || by(Method::Geometry) {
        notes.push(
            "formulas are geometry: tension and the thickness of the thread are not in them; where it matters, measure \
             3 cm of the seam and unpick them"
                .to_owned(),
        );
    }
    for remark in seams.iter().flat_map(|seam| seam.thread.remarks()) {
        if !notes.contains(&remark) {
            notes.push(remark);
        }
    }
    for thread in threads {
        notes.push(format!(
            "{}: published shares of waste run from 10 % to 20 %, that is {} to {}",
            thread.role,
            thread.low_m.0.show_thread_taken(units),
            thread.high_m.0.show_thread_taken(units)
        ));
    }
    notes
}
