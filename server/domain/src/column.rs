//! How a closed list lies in a TEXT column: as its word, in every database.

/// Reads a type by its `FromStr`.
macro_rules! read {
    ($name:ident) => {
        impl<DB> diesel::deserialize::FromSql<diesel::sql_types::Text, DB> for $name
        where
            DB: diesel::backend::Backend,
            String: diesel::deserialize::FromSql<diesel::sql_types::Text, DB>,
        {
            fn from_sql(bytes: DB::RawValue<'_>) -> diesel::deserialize::Result<Self> {
                Ok(String::from_sql(bytes)?.parse()?)
            }
        }
    };
}
pub(crate) use read;

/// Reads a type by its `FromStr`, and writes its `word`.
macro_rules! text {
    ($name:ident) => {
        $crate::column::read!($name);

        impl<DB> diesel::serialize::ToSql<diesel::sql_types::Text, DB> for $name
        where
            DB: diesel::backend::Backend,
            str: diesel::serialize::ToSql<diesel::sql_types::Text, DB>,
        {
            fn to_sql<'b>(
                &'b self,
                out: &mut diesel::serialize::Output<'b, '_, DB>,
            ) -> diesel::serialize::Result {
                self.word().to_sql(out)
            }
        }
    };
}
pub(crate) use text;
