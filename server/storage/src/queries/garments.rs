//! Garments, needs, operations and work.

use super::{Conn, changed};
use crate::error::StorageError;
use crate::kept::{Change, Write};
use crate::records::{Garment, Need, Operation, PastMinutes, WorkEntry};
use crate::schema::{garments, needs, operations, work_entries};
use diesel::dsl::{exists, sql};
use diesel::{prelude::*, sql_types::BigInt};
use ellwand_domain::setting::{GarmentState, WorkReason};

/// A name as it is looked for: without its capitals.
fn searched(name: Option<&str>) -> Option<String> {
    name.map(str::to_lowercase)
}

pub fn insert_garment(conn: &mut Conn, garment: &Garment) -> Result<(), StorageError> {
    let row = (
        garment,
        garments::name_search.eq(garment.name.to_lowercase()),
    );
    diesel::insert_into(garments::table)
        .values(row)
        .execute(conn)?;
    Ok(())
}

pub fn update_garment(conn: &mut Conn, garment: &Garment) -> Result<(), StorageError> {
    let row = (
        garment,
        garments::name_search.eq(garment.name.to_lowercase()),
    );
    let of = garments::id.eq(garment.id);
    let rows = Change {
        table: "garments",
        set: row.as_changeset(),
        of,
    }
    .execute(conn)?;
    changed(rows, "garment", garment.id)
}

pub fn garment(conn: &mut Conn, id: i64) -> Result<Option<Garment>, StorageError> {
    Ok(garments::table
        .find(id)
        .select(Garment::as_select())
        .first(conn)
        .optional()?)
}

/// Garments before `before`, newest first.
pub fn garments(
    conn: &mut Conn,
    state: Option<GarmentState>,
    customer: Option<i64>,
    before: i64,
    limit: i64,
) -> Result<Vec<Garment>, StorageError> {
    let mut query = garments::table
        .filter(garments::id.lt(before))
        .order(garments::id.desc())
        .limit(limit)
        .select(Garment::as_select())
        .into_boxed();
    if let Some(state) = state {
        query = query.filter(garments::state.eq(state));
    }
    if let Some(customer) = customer {
        query = query.filter(garments::customer_id.eq(customer));
    }
    Ok(query.load(conn)?)
}

pub fn save_need(conn: &mut Conn, need: &Need) -> Result<(), StorageError> {
    let row = (
        need,
        needs::detail_search.eq(searched(need.detail.as_deref())),
    );
    let insert = diesel::insert_into(needs::table).values(row.clone());
    Write {
        insert,
        key: "id",
        set: row.as_changeset(),
    }
    .execute(conn)?;
    Ok(())
}

pub fn need(conn: &mut Conn, id: i64) -> Result<Option<Need>, StorageError> {
    Ok(needs::table
        .find(id)
        .select(Need::as_select())
        .first(conn)
        .optional()?)
}

/// Needs of a garment in the order of the plan, dropped ones included.
pub fn needs(conn: &mut Conn, garment: i64) -> Result<Vec<Need>, StorageError> {
    let of_garment = needs::table.filter(needs::garment_id.eq(garment));
    Ok(of_garment
        .order(needs::id)
        .select(Need::as_select())
        .load(conn)?)
}

pub fn save_operation(conn: &mut Conn, operation: &Operation) -> Result<(), StorageError> {
    let row = (
        operation,
        operations::detail_search.eq(searched(operation.detail.as_deref())),
    );
    diesel::insert_into(operations::table)
        .values(row.clone())
        .on_conflict((operations::garment_id, operations::name))
        .do_update()
        .set(row)
        .execute(conn)?;
    Ok(())
}

/// Takes a planned operation out.
pub fn delete_operation(conn: &mut Conn, garment: i64, name: &str) -> Result<(), StorageError> {
    let planned = operations::table.filter(operations::garment_id.eq(garment));
    diesel::delete(planned.filter(operations::name.eq(name))).execute(conn)?;
    Ok(())
}

/// Planned operations in the order of the plan.
pub fn operations(conn: &mut Conn, garment: i64) -> Result<Vec<Operation>, StorageError> {
    Ok(operations::table
        .filter(operations::garment_id.eq(garment))
        .order((operations::position, operations::name))
        .select(Operation::as_select())
        .load(conn)?)
}

pub fn insert_work(conn: &mut Conn, work: &WorkEntry) -> Result<(), StorageError> {
    let row = (
        work,
        work_entries::operation_search.eq(work.operation.to_lowercase()),
        work_entries::detail_search.eq(searched(work.detail.as_deref())),
    );
    diesel::insert_into(work_entries::table)
        .values(row)
        .execute(conn)?;
    Ok(())
}

/// Sum of the minutes of an operation on a garment that were not taken back; an index alone answers it.
pub fn worked_minutes(conn: &mut Conn, garment: i64, operation: &str) -> Result<i64, StorageError> {
    Ok(work_entries::table
        .filter(work_entries::garment_id.eq(garment))
        .filter(work_entries::operation.eq(operation))
        .filter(work_entries::undone_by.is_null())
        .select(sql::<BigInt>("CAST(COALESCE(SUM(minutes), 0) AS BIGINT)"))
        .first(conn)?)
}

/// Minutes logged on a garment that were not taken back, in order.
pub fn work(conn: &mut Conn, garment: i64) -> Result<Vec<WorkEntry>, StorageError> {
    Ok(work_entries::table
        .filter(work_entries::garment_id.eq(garment))
        .filter(work_entries::undone_by.is_null())
        .order(work_entries::id)
        .select(WorkEntry::as_select())
        .load(conn)?)
}

/// What an operation took on past garments (finished or delivered, at least one of them good): minutes logged as planned that still stand, one row a
/// garment or batch, newest first. Named ones are sought by the garment's name, others by the operation's, each in its
/// index; both whatever their capitals.
pub fn past_minutes(
    conn: &mut Conn,
    operation: &str,
    named: Option<&str>,
    without: i64,
    limit: i64,
) -> Result<Vec<PastMinutes>, StorageError> {
    let planned = work_entries::operation_search
        .eq(operation.to_lowercase())
        .and(work_entries::undone_by.is_null())
        .and(work_entries::reason.eq(WorkReason::Planned));
    let past = garments::state
        .eq(GarmentState::Finished)
        .or(garments::state.eq(GarmentState::Delivered))
        .and(garments::good.is_null().or(garments::good.gt(0)))
        .and(garments::id.ne(without));
    let newest: Vec<i64> = match named {
        Some(name) => garments::table
            .filter(garments::name_search.eq(name.to_lowercase()))
            .filter(past)
            .filter(exists(
                work_entries::table
                    .filter(work_entries::garment_id.eq(garments::id))
                    .filter(planned.clone()),
            ))
            .order(garments::id.desc())
            .limit(limit)
            .select(garments::id)
            .load(conn)?,
        None => work_entries::table
            .filter(planned.clone())
            .filter(exists(
                garments::table
                    .filter(garments::id.eq(work_entries::garment_id))
                    .filter(past),
            ))
            .order(work_entries::garment_id.desc())
            .limit(limit)
            .select(work_entries::garment_id)
            .distinct()
            .load(conn)?,
    };
    let columns = (
        work_entries::garment_id,
        work_entries::minutes,
        garments::count,
    );
    let worked = work_entries::table
        .inner_join(garments::table)
        .filter(planned)
        .select(columns);
    let rows: Vec<PastMinutes> = of_ids!(conn, newest, work_entries::garment_id, worked);
    let minutes = |id: i64| rows.iter().filter(move |row| row.garment_id == id);
    let summed = newest.into_iter().filter_map(|id| {
        let count = minutes(id).next()?.count;
        let all = minutes(id).fold(0_i64, |sum, row| sum.saturating_add(row.minutes));
        Some(PastMinutes {
            garment_id: id,
            minutes: all,
            count,
        })
    });
    Ok(summed.collect())
}
