//! Movements as stored.

use crate::error::StorageError;
use crate::schema::movements;
use diesel::prelude::*;
use ellwand_domain::{
    ledger::{Account, AccountKind, Movement, Quantity},
    quantity::Millionths,
};

/// A movement with its place in the ledger.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StoredMovement {
    /// The only order.
    pub sequence: i64,
    /// Its booking.
    pub booking: i64,
    /// What moved.
    pub movement: Movement,
}

/// A row to read.
#[derive(Debug, Clone, Queryable, Selectable)]
#[diesel(table_name = movements)]
pub(crate) struct MovementRow {
    pub sequence: i64,
    pub booking_id: i64,
    from_kind: AccountKind,
    from_id: i64,
    to_kind: AccountKind,
    to_id: i64,
    quantity_out: i64,
    quantity_in: i64,
    value: i64,
}

impl MovementRow {
    pub(crate) fn into_domain(self) -> Result<StoredMovement, StorageError> {
        let Self {
            sequence,
            booking_id,
            from_kind,
            from_id,
            to_kind,
            to_id,
            quantity_out,
            quantity_in,
            value,
        } = self;
        Ok(StoredMovement {
            sequence,
            booking: booking_id,
            movement: Movement {
                from: Account::new(from_kind, from_id),
                to: Account::new(to_kind, to_id),
                quantity_out: Quantity::new(quantity_out)?,
                quantity_in: Quantity::new(quantity_in)?,
                value: Millionths::new(value)?,
            },
        })
    }
}

/// A row to insert.
#[derive(Debug, Insertable)]
#[diesel(table_name = movements)]
pub(crate) struct NewMovement {
    booking_id: i64,
    from_kind: AccountKind,
    from_id: i64,
    to_kind: AccountKind,
    to_id: i64,
    quantity_out: i64,
    quantity_in: i64,
    value: i64,
}

impl NewMovement {
    pub(crate) fn new(booking_id: i64, movement: &Movement) -> Self {
        let Movement {
            from,
            to,
            quantity_out,
            quantity_in,
            value,
        } = *movement;
        Self {
            booking_id,
            from_kind: from.kind,
            from_id: from.id,
            to_kind: to.kind,
            to_id: to.id,
            quantity_out: quantity_out.get(),
            quantity_in: quantity_in.get(),
            value: value.get(),
        }
    }
}
