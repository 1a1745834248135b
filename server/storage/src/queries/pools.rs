//! Shares of lots in pools (moving average), and what takings carried off.

use super::Conn;
use crate::error::StorageError;
use crate::kept::Write;
use crate::records::{PoolShare, PoolTaking};
use crate::schema::{pool_shares, pool_takings};
use diesel::{dsl::sql, prelude::*, sql_types::BigInt};
use ellwand_domain::ledger::{Account, AccountKind};

/// Shares of lots that lie in a pool, in the order of the lots.
pub fn pool_shares(conn: &mut Conn, layer: i64) -> Result<Vec<PoolShare>, StorageError> {
    Ok(pool_shares::table
        .filter(pool_shares::layer_id.eq(layer))
        .filter(pool_shares::share.gt(0))
        .order(pool_shares::lot_id)
        .select(PoolShare::as_select())
        .load(conn)?)
}

pub fn pool_share(conn: &mut Conn, lot: i64) -> Result<Option<PoolShare>, StorageError> {
    Ok(pool_shares::table
        .find(lot)
        .select(PoolShare::as_select())
        .first(conn)
        .optional()?)
}

pub fn save_pool_share(conn: &mut Conn, share: &PoolShare) -> Result<(), StorageError> {
    let insert = diesel::insert_into(pool_shares::table).values(share);
    Write {
        insert,
        key: "lot_id",
        set: share.as_changeset(),
    }
    .execute(conn)?;
    Ok(())
}

/// Takes out the share of a lot whose receipt is taken back.
pub fn delete_pool_share(conn: &mut Conn, lot: i64) -> Result<(), StorageError> {
    diesel::delete(pool_shares::table.find(lot)).execute(conn)?;
    Ok(())
}

pub fn insert_pool_taking(conn: &mut Conn, taking: &PoolTaking) -> Result<(), StorageError> {
    diesel::insert_into(pool_takings::table)
        .values(taking)
        .execute(conn)?;
    Ok(())
}

/// What these bookings took of pools, in the order of bookings and lots.
pub fn pool_takings_of(conn: &mut Conn, ids: &[i64]) -> Result<Vec<PoolTaking>, StorageError> {
    let query = pool_takings::table
        .filter(pool_takings::undone_by.is_null())
        .order((pool_takings::booking_id, pool_takings::lot_id))
        .select(PoolTaking::as_select());
    Ok(of_ids!(conn, ids, pool_takings::booking_id, query))
}

/// Where what was taken of a lot went, each place with its sum.
pub fn pool_places(conn: &mut Conn, lot: i64) -> Result<Vec<(Account, i64)>, StorageError> {
    let rows: Vec<(AccountKind, i64, i64)> = pool_takings::table
        .filter(pool_takings::lot_id.eq(lot))
        .filter(pool_takings::undone_by.is_null())
        .group_by((pool_takings::to_kind, pool_takings::to_id))
        .order((pool_takings::to_kind, pool_takings::to_id))
        .select((
            pool_takings::to_kind,
            pool_takings::to_id,
            sql::<BigInt>("CAST(SUM(share) AS BIGINT)"),
        ))
        .load(conn)?;
    Ok(rows
        .into_iter()
        .map(|(kind, id, share)| (Account::new(kind, id), share))
        .collect())
}

/// Lots whose shares do not add up to their whole receipt: at most 20, each with the sum.
pub fn audit_pool_shares(conn: &mut Conn) -> Result<Vec<(i64, i64)>, StorageError> {
    let sum = "CAST(pool_shares.share + COALESCE((SELECT SUM(pool_takings.share) FROM pool_takings \
               WHERE pool_takings.lot_id = pool_shares.lot_id AND pool_takings.undone_by IS NULL), 0) AS BIGINT)";
    Ok(pool_shares::table
        .filter(sql::<BigInt>(sum).ne(1_000_000_000))
        .order(pool_shares::lot_id)
        .limit(20)
        .select((pool_shares::lot_id, sql::<BigInt>(sum)))
        .load(conn)?)
}
