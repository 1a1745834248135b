//! Seams and their thread as they are shown.

use super::plan::Planned;
use crate::{
    desk::{Desk, failure::Failure, perform::Perform, version},
    garments::{need::load_garment, operation::is_same},
};
use ellwand_contract::seams::{GetSeams, SeamInput, Seams, estimate};
use ellwand_domain::setting::Kind;
use ellwand_storage::Subject;

impl Perform for GetSeams {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Seams, Failure> {
        let (garment, needs) = load_garment(desk, self.garment)?;
        let planned = Planned::load(desk, garment.id)?;
        let mut view = estimate(&planned.inputs, &planned.plan, desk.context.units())?;
        for need in needs
            .iter()
            .filter(|need| need.row.kind == Kind::Thread && !need.plan.seams())
        {
            let Some(sum) = view
                .threads
                .iter()
                .find(|sum| is_same(&sum.role, &need.row.role))
            else {
                continue;
            };
            view.notes.push(format!(
                "the need {} is {} by its own length; with seams=yes it would be {}",
                need.row.role,
                need.amount_text(desk.context),
                sum.total_m.0.show_thread_taken(desk.context.units())
            ));
        }
        view.garment = Some(self.garment);
        view.version = Some(version::of(desk, Subject::Garment, garment.id)?);
        view.name = Some(garment.name);
        Ok(view)
    }
}

impl Perform for SeamInput {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Seams, Failure> {
        Ok(self.estimate(desk.context.units())?)
    }
}
