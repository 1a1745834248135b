//! Conditions spelled out in SQL: word for word those of the partial indexes, and comparisons of rows.
//!
//! Each is a type of its own rather than a piece of SQL in the query: a statement that contains free SQL is prepared
//! anew every time it is asked.

use diesel::{
    backend::Backend,
    expression::{AppearsOnTable, Expression, SelectableExpression, ValidGrouping, is_aggregate},
    prelude::*,
    query_builder::{AstPass, QueryFragment, QueryId},
    serialize::ToSql,
    sql_types::{BigInt, Bool, HasSqlType, Nullable},
};

macro_rules! conditions {
    ($($(#[$doc:meta])* $name:ident: $type:ty = $sql:literal;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, QueryId)]
        pub struct $name;

        impl Expression for $name {
            type SqlType = $type;
        }

        impl<QS> AppearsOnTable<QS> for $name {}
        impl<QS> SelectableExpression<QS> for $name {}

        impl<GroupBy> ValidGrouping<GroupBy> for $name {
            type IsAggregate = is_aggregate::No;
        }

        impl<DB: Backend> QueryFragment<DB> for $name {
            fn walk_ast<'b>(&'b self, mut out: AstPass<'_, 'b, DB>) -> QueryResult<()> {
                out.push_sql($sql);
                Ok(())
            }
        }
    )*};
}

conditions! {
    /// A promise that holds: `reservations_by_piece`.
    ActivePromise: Bool = "reservations.state = 'active'";
    /// A garment with an accepted quotation: `quotations_by_garment`.
    Agreed: Bool = "EXISTS (SELECT 1 FROM quotations WHERE quotations.garment_id = garments.id \
                    AND quotations.state = 'accepted')";
    /// A piece that is not used up: `pieces_on_shelf`.
    OnShelf: Bool = "pieces.quantity > 0";
    /// What lies between the selvedges of a piece.
    UsableWidth: Nullable<BigInt> = "(pieces.full_width_um - pieces.selvedges_um)";
    /// Mass per area of a piece as it is now, in milligrams, to the nearest.
    MassNow: Nullable<BigInt> = "((lots.mass_mg_m2 * pieces.mass_factor_ppm + 500000) / 1000000)";
}

/// A piece beyond this one in the order of the codes: one comparison of lot and number, so that the index is sought
/// however many pieces a lot has.
#[derive(Debug, Clone, Copy, QueryId)]
pub struct BeyondPiece {
    pub(crate) lot: i64,
    pub(crate) number: i64,
}

impl Expression for BeyondPiece {
    type SqlType = Bool;
}

impl<QS> AppearsOnTable<QS> for BeyondPiece {}
impl<QS> SelectableExpression<QS> for BeyondPiece {}

impl<GroupBy> ValidGrouping<GroupBy> for BeyondPiece {
    type IsAggregate = is_aggregate::No;
}

impl<DB> QueryFragment<DB> for BeyondPiece
where
    DB: Backend + HasSqlType<BigInt>,
    i64: ToSql<BigInt, DB>,
{
    fn walk_ast<'b>(&'b self, mut out: AstPass<'_, 'b, DB>) -> QueryResult<()> {
        out.push_sql("(pieces.lot_id, pieces.number) > (");
        out.push_bind_param::<BigInt, _>(&self.lot)?;
        out.push_sql(", ");
        out.push_bind_param::<BigInt, _>(&self.number)?;
        out.push_sql(")");
        Ok(())
    }
}
