//! Taking a rating back.

use super::{Case, Effect, cannot};
use crate::{failure::Done, garments::operation::is_same};
use ellwand_domain::code::{BookingCode, GarmentCode};
use ellwand_storage::{DetailRating, Tx};

impl Case<'_, '_> {
    /// The rating is what it was before, or there is none again.
    pub(super) fn rated(
        &self,
        tx: &mut Tx<'_>,
        garment: i64,
        detail: &str,
        before: Option<(i64, i64)>,
    ) -> Done<Effect> {
        let rows = tx.detail_ratings(garment)?;
        let row = rows.into_iter().find(|row| is_same(&row.name, detail));
        let again = row
            .as_ref()
            .map(|row| row.booking_id)
            .filter(|id| *id > self.target.id);
        let Some(row) = row.filter(|row| row.booking_id == self.target.id) else {
            let by = again
                .map(|id| format!(", by {}", BookingCode::new(id)))
                .unwrap_or_default();
            let detail = format!(
                "the {detail} of {} was rated again since{by}",
                GarmentCode::new(garment)
            );
            return Err(cannot(detail, "take that back first, or rate it again"));
        };
        match before {
            Some((rating, booking_id)) => {
                tx.save_detail_rating(&DetailRating {
                    rating,
                    booking_id,
                    ..row
                })?;
            }
            None => tx.delete_detail_rating(garment, &row.name_search)?,
        }
        Ok(Effect::default())
    }
}
