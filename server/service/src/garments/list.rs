//! The list of garments.

use super::show;
use crate::{
    desk::{Desk, failure::Failure, page, perform::Perform},
    people::parties::find_customer,
};
use ellwand_contract::{
    Meta,
    garments::{Garment as View, GarmentHead, Garments, GetGarment, ListGarments},
};
use ellwand_domain::code::GarmentCode;

/// Rows a page, when none are asked for and at most.
const LIMIT: (u32, u32) = (50, 200);

impl Perform for GetGarment {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<View, Failure> {
        show::view(desk, self.garment.get(), None)
    }
}

impl Perform for ListGarments {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Garments, Failure> {
        let limit = i64::from(page::rows(self.limit, LIMIT.0, LIMIT.1)?);
        let before = match &self.after {
            Some(text) => text
                .parse::<GarmentCode>()
                .map_err(|_| {
                    page::refused(
                        "after",
                        format!("\"{text}\" is not a cursor of the garments"),
                    )
                })?
                .get(),
            None => i64::MAX,
        };
        let customer = match self.customer.as_deref() {
            Some(text) => Some(find_customer(desk, text)?.id),
            None => None,
        };
        let limit_and_one = limit.saturating_add(1);
        let mut rows = desk
            .tx
            .garments(self.state, customer, before, limit_and_one)?;
        let more = rows.len() > usize::try_from(limit).unwrap_or(usize::MAX);
        rows.truncate(usize::try_from(limit).unwrap_or(usize::MAX));
        let next = rows
            .last()
            .filter(|_| more)
            .map(|row| GarmentCode::new(row.id).to_string());
        let mut garments = Vec::with_capacity(rows.len());
        for row in rows {
            garments.push(GarmentHead {
                garment: GarmentCode::new(row.id),
                customer: show::customer(desk, &row)?,
                name: row.name,
                count: row.count,
                due: row.due,
                state: row.state,
            });
        }
        Ok(Garments {
            garments,
            meta: Meta { next },
        })
    }
}
