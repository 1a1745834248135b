//! Ellwand's book on SQLite and PostgreSQL.
//!
//! Queries are written once in `queries/` and mounted for each dialect; [`Tx`] is their table of
//! contents and the only way to reach them. A write is a job handed to [`Db::write`], which runs it in
//! the one write transaction and may run it again when the transaction lost against another.

mod aside;
mod audit;
mod condition;
mod copy;
mod db;
mod error;
mod job;
mod kept;
mod lock;
mod migration;
mod month;
mod movement;
mod owner;
mod piece;
#[cfg(feature = "postgresql")]
mod postgresql;
mod records;
mod schema;
mod shelf;
mod sqlite;
mod table;
mod turnstile;
mod tx;

pub use audit::{Balance, CounterSum, LayerStep, PurchaseSum};
pub use copy::TableContent;
pub use db::{Db, JobError, OpenOptions, WriteJob, Written};
pub use ellwand_domain::setting::Subject;
pub use error::StorageError;
pub use migration::{MIGRATIONS_KNOWN, migration_names};
pub use month::{DayAct, LedgerFlow, OwedOn, PaidSum, QuotedSum, Worked};
pub use movement::StoredMovement;
pub use piece::{Near, StoredPiece};
#[cfg(feature = "postgresql")]
pub use postgresql::is_in_the_clear;
pub use records::{
    Booking, BookingFilter, BookingSubject, Customer, CustomerMeasure, CutEntry, CutOfLine,
    DayWork, DetailRating, Garment, KindPayRate, Lay, LayRung, Layer, Logo, Lot, Material, Need,
    Operation, OverheadRate, OverheadSpent, PastMinutes, PayRate, Payment, Person, PlannedCost,
    PoolShare, PoolTaking, PooledPromise, Purchase, PurchaseCharge, PurchaseLine, Quotation,
    QuotationVersion, Request, Reservation, Sale, Seam, SeamAllowance, StandingCut,
    StandingPromise, Supplier, TaxRate, TaxReclaim, Token, Trace, UsualOperation, WashTest,
    WorkEntry, WorkReversal, Workshop, YearlyFigures,
};
pub use shelf::{Change, KindOnShelf, PooledPiece, ShelfFilter, ShelfRow};
pub use sqlite::snapshot;
pub use tx::Tx;
