//! A small shelf to build on: one supplier, one purchase, one lot of navy wool with one piece, one garment with one need.

use crate::database::TestDatabase;
use crate::draft::{booking, cloth, garment, lot, material, need, purchase, supplier};
use ellwand_domain::setting::Kind;
use ellwand_storage::{StorageError, Tx};

/// A metre.
pub const M: i64 = 1_000_000;

/// Writes the small shelf: every row has the id 1, the piece is 3 m long and worth 60.
pub fn write(tx: &mut Tx<'_>) -> Result<(), StorageError> {
    tx.insert_booking(&booking(1), &[], &[])?;
    tx.save_supplier(&supplier(1, "Harbour Cloth Stall"))?;
    tx.save_material(&material(1, Kind::Cloth, "navy wool"))?;
    tx.insert_purchase(&purchase(1))?;
    tx.insert_lot(&lot(1, 1))?;
    tx.insert_piece(&cloth(1, 1, 1))?;
    tx.insert_garment(&garment(1))?;
    tx.save_need(&need(1, 1))
}

/// Writes the small shelf into a new book.
pub fn stock(book: &TestDatabase) {
    book.put(write);
}
