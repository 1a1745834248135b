//! Seams and their thread as they are shown.

use super::{plan::Planned, read, refused};
use crate::{
    context::Context,
    failure::{Done, Failure},
    garments::{
        need::load_garment,
        operation::{is_same, spelled},
    },
    perform::Perform,
    version,
};
use ellwand_contract::{
    Metres,
    seams::{GetSeams, Seam, SeamInput, Seams, SeamsThread},
};
use ellwand_domain::{
    quantity::PartsPerMillion,
    setting::Kind,
    thread::{Allowance, Method, RoleSum, Roles, Split},
};
use ellwand_storage::{Subject, Tx};

/// The least and the most of the published shares of waste.
const PUBLISHED_WASTE_PPM: (i64, i64) = (100_000, 200_000);

impl Perform for GetSeams {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<Seams, Failure> {
        let (garment, needs) = load_garment(tx, self.garment)?;
        let planned = Planned::load(tx, garment.id)?;
        let mut view = view(context, &planned)?;
        for need in needs.iter().filter(|need| need.row.kind.0 == Kind::Thread && !need.input.seams) {
            let Some(sum) = view.threads.iter().find(|sum| is_same(&sum.role, &need.row.role)) else {
                continue;
            };
            view.notes.push(format!(
                "the need {} is {} by its own length; with seams=yes it would be {}",
                need.row.role,
                need.amount_text(context),
                sum.total_m.0.show(context.units())
            ));
        }
        view.garment = Some(self.garment);
        view.version = Some(version::of(tx, Subject::Garment, garment.id)?);
        view.name = Some(garment.name);
        Ok(view)
    }
}

impl Perform for SeamInput {
    fn perform(&self, _tx: &mut Tx<'_>, context: &Context<'_>) -> Result<Seams, Failure> {
        let mut input = read::normal(self)?;
        input.name = spelled(&self.name);
        view(context, &Planned::of(vec![input], Allowance::USUAL)?)
    }
}

fn view(context: &Context<'_>, planned: &Planned) -> Done<Seams> {
    let Planned { inputs, plan } = planned;
    let allowance = plan.allowance;
    let mut threads = Vec::new();
    for role in plan.roles() {
        if let Some(sum) = plan.sum(&role).map_err(|error| refused(&error))? {
            threads.push(thread(context, &sum, allowance)?);
        }
    }
    Ok(Seams {
        garment: None,
        name: None,
        seams: inputs.iter().zip(&plan.seams).map(|(input, seam)| row(context, input, seam)).collect(),
        notes: notes(&plan.seams, &threads, context),
        threads,
        ends_m: Metres(allowance.ends),
        waste_percent: allowance.waste.decimal(),
        version: None,
    })
}

fn row(context: &Context<'_>, input: &SeamInput, roles: &Roles) -> Seam {
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
        step: thread.step(context.units()),
    }
}

fn thread(context: &Context<'_>, sum: &RoleSum, allowance: Allowance) -> Done<SeamsThread> {
    let sewn = sum.sum.plus(sum.ends)?;
    let with = |ppm: i64| -> Done<Metres> {
        let other = Allowance { waste: PartsPerMillion::new(ppm)?, ..allowance };
        Ok(Metres(other.with_waste(sewn).map_err(|error| refused(&error))?))
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
        steps: sum.steps(allowance, context.units()),
    })
}

fn notes(seams: &[Roles], threads: &[SeamsThread], context: &Context<'_>) -> Vec<String> {
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
    let units = context.units();
    for thread in threads {
        notes.push(format!(
            "{}: published shares of waste run from 10 % to 20 %, that is {} to {}",
            thread.role,
            thread.low_m.0.show(units),
            thread.high_m.0.show(units)
        ));
    }
    notes
}
