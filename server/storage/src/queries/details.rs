//! Details of garments: where they are found, and what they were worth.

use super::Conn;
use crate::error::StorageError;
use crate::records::DetailRating;
use crate::schema::{detail_ratings, garments, needs, operations, work_entries};
use diesel::dsl::exists;
use diesel::prelude::*;
use ellwand_domain::setting::GarmentState;

/// Garments (finished or delivered) that have a detail, newest first; with a name, that one, whatever its capitals.
pub fn garments_with_detail(
    conn: &mut Conn,
    detail: Option<&str>,
    limit: i64,
) -> Result<Vec<i64>, StorageError> {
    macro_rules! newest {
        ($table:ident, $stands:expr) => {{
            let made = garments::state
                .eq(GarmentState::Finished)
                .or(garments::state.eq(GarmentState::Delivered));
            let made = garments::table
                .filter(garments::id.eq($table::garment_id))
                .filter(made);
            let rows = $table::table
                .filter($stands)
                .filter(exists(made))
                .order($table::garment_id.desc())
                .limit(limit)
                .select($table::garment_id)
                .distinct();
            let ids: Vec<i64> = match detail {
                Some(name) => rows
                    .filter($table::detail_search.eq(name.to_lowercase()))
                    .load(conn)?,
                None => rows
                    .filter($table::detail_search.is_not_null())
                    .load(conn)?,
            };
            ids
        }};
    }
    let mut ids = newest!(needs, needs::dropped.eq(false));
    ids.extend(newest!(operations, operations::minutes.ge(0)));
    ids.extend(newest!(work_entries, work_entries::undone_by.is_null()));
    ids.sort_unstable_by(|one, other| other.cmp(one));
    ids.dedup();
    ids.truncate(usize::try_from(limit).unwrap_or(usize::MAX));
    Ok(ids)
}

/// Writes a rating; one of the same detail of the garment is replaced.
pub fn save_detail_rating(conn: &mut Conn, rating: &DetailRating) -> Result<(), StorageError> {
    diesel::insert_into(detail_ratings::table)
        .values(rating)
        .on_conflict((detail_ratings::garment_id, detail_ratings::name_search))
        .do_update()
        .set(rating)
        .execute(conn)?;
    Ok(())
}

/// Takes a rating out.
pub fn delete_detail_rating(conn: &mut Conn, garment: i64, name: &str) -> Result<(), StorageError> {
    let of_garment = detail_ratings::table.filter(detail_ratings::garment_id.eq(garment));
    diesel::delete(of_garment.filter(detail_ratings::name_search.eq(name.to_lowercase())))
        .execute(conn)?;
    Ok(())
}

/// Ratings of a garment's details by name.
pub fn detail_ratings(conn: &mut Conn, garment: i64) -> Result<Vec<DetailRating>, StorageError> {
    Ok(detail_ratings::table
        .filter(detail_ratings::garment_id.eq(garment))
        .order(detail_ratings::name_search)
        .select(DetailRating::as_select())
        .load(conn)?)
}
