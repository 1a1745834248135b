//! Materials, lots, wash tests and cost layers.

use super::{Conn, changed};
use crate::error::StorageError;
use crate::kept::{Change, Write};
use crate::records::{Layer, Lot, Material, WashTest};
use crate::schema::{
    layers, lot_fibres, lots, materials, pieces, purchase_lines, purchases, wash_tests,
};
use chrono::NaiveDate;
use diesel::{dsl::not, prelude::*};
use ellwand_domain::setting::Kind;

pub fn material(conn: &mut Conn, id: i64) -> Result<Option<Material>, StorageError> {
    Ok(materials::table
        .find(id)
        .select(Material::as_select())
        .first(conn)
        .optional()?)
}

pub fn material_named(
    conn: &mut Conn,
    kind: Kind,
    name: &str,
) -> Result<Option<Material>, StorageError> {
    Ok(materials::table
        .filter(materials::kind.eq(kind))
        .filter(materials::name.eq(name))
        .select(Material::as_select())
        .first(conn)
        .optional()?)
}

/// Materials of this name, of any kind.
pub fn materials_named(conn: &mut Conn, name: &str) -> Result<Vec<Material>, StorageError> {
    Ok(materials::table
        .filter(materials::name.eq(name))
        .select(Material::as_select())
        .load(conn)?)
}

pub fn materials(conn: &mut Conn) -> Result<Vec<Material>, StorageError> {
    let order = (materials::kind, materials::name);
    Ok(materials::table
        .order(order)
        .select(Material::as_select())
        .load(conn)?)
}

pub fn save_material(conn: &mut Conn, material: &Material) -> Result<(), StorageError> {
    let row = (
        material,
        materials::name_search.eq(material.name.to_lowercase()),
    );
    let insert = diesel::insert_into(materials::table).values(row.clone());
    insert
        .on_conflict(materials::id)
        .do_update()
        .set(row)
        .execute(conn)?;
    Ok(())
}

pub fn insert_lot(conn: &mut Conn, lot: &Lot) -> Result<(), StorageError> {
    let row = (lot, lots::colour_search.eq(lot.colour.to_lowercase()));
    diesel::insert_into(lots::table).values(row).execute(conn)?;
    Ok(())
}

pub fn update_lot(conn: &mut Conn, lot: &Lot) -> Result<(), StorageError> {
    let row = (lot, lots::colour_search.eq(lot.colour.to_lowercase()));
    let of = lots::id.eq(lot.id);
    let rows = Change {
        table: "lots",
        set: row.as_changeset(),
        of,
    }
    .execute(conn)?;
    changed(rows, "lot", lot.id)
}

pub fn lot(conn: &mut Conn, id: i64) -> Result<Option<Lot>, StorageError> {
    Ok(lots::table
        .find(id)
        .select(Lot::as_select())
        .first(conn)
        .optional()?)
}

/// Lots of a material of which the price is not known or was estimated, in their order.
pub fn lots_in_doubt(conn: &mut Conn, material: i64) -> Result<Vec<Lot>, StorageError> {
    Ok(lots::table
        .filter(lots::material_id.eq(material))
        .filter(lots::unpriced.or(lots::value_estimated))
        .order(lots::id)
        .select(Lot::as_select())
        .load(conn)?)
}

/// Own lots that had come by the end of a day and are not used up: how many have no price, and how many an estimated value.
pub fn lots_without_sure_value(
    conn: &mut Conn,
    day: NaiveDate,
) -> Result<(i64, i64), StorageError> {
    let here = pieces::table
        .filter(pieces::quantity.gt(0))
        .select(pieces::lot_id);
    let own = lots::table
        .filter(lots::owner_id.is_null())
        .filter(lots::received.le(day))
        .filter(lots::id.eq_any(here));
    Ok((
        own.filter(lots::unpriced).count().get_result(conn)?,
        own.filter(lots::value_estimated).count().get_result(conn)?,
    ))
}

/// Writes by which fibres a lot is found, in the place of those before.
pub fn save_lot_fibres(conn: &mut Conn, lot: i64, fibres: &[String]) -> Result<(), StorageError> {
    diesel::delete(lot_fibres::table.filter(lot_fibres::lot_id.eq(lot))).execute(conn)?;
    for fibre in fibres {
        let row = (lot_fibres::lot_id.eq(lot), lot_fibres::fibre.eq(fibre));
        diesel::insert_into(lot_fibres::table)
            .values(row)
            .on_conflict_do_nothing()
            .execute(conn)?;
    }
    Ok(())
}

/// Takes `count` numbers for new pieces of a lot and returns the first.
pub fn next_piece_numbers(conn: &mut Conn, lot: i64, count: i64) -> Result<i64, StorageError> {
    let next: i64 = diesel::update(lots::table.find(lot))
        .set(lots::next_piece.eq(lots::next_piece + count))
        .returning(lots::next_piece)
        .get_result(conn)?;
    Ok(next - count)
}

/// Lots of a material that the workshop bought at a known price, newest first: lot, landed cost, quantity received, booking of the purchase.
pub fn bought_lots_of(
    conn: &mut Conn,
    material: i64,
    limit: i64,
) -> Result<Vec<(i64, i64, i64, i64)>, StorageError> {
    let lines = purchase_lines::table.inner_join(purchases::table);
    Ok(lines
        .inner_join(lots::table.on(lots::id.eq(purchase_lines::lot_id)))
        .filter(lots::material_id.eq(material))
        .filter(lots::owner_id.is_null())
        .filter(not(lots::unpriced))
        .order((lots::received.desc(), lots::id.desc()))
        .limit(limit)
        .select((
            lots::id,
            purchase_lines::landed,
            purchase_lines::quantity,
            purchases::booking_id,
        ))
        .load(conn)?)
}

pub fn insert_wash_test(conn: &mut Conn, test: &WashTest) -> Result<(), StorageError> {
    diesel::insert_into(wash_tests::table)
        .values(test)
        .execute(conn)?;
    Ok(())
}

/// Wash tests of a lot that stand, newest first.
pub fn wash_tests(conn: &mut Conn, lot: i64) -> Result<Vec<WashTest>, StorageError> {
    Ok(wash_tests::table
        .filter(wash_tests::lot_id.eq(lot))
        .filter(wash_tests::undone_by.is_null())
        .order(wash_tests::number.desc())
        .select(WashTest::as_select())
        .load(conn)?)
}

/// Layers of a material in the order of their receipt, emptied ones included.
pub fn layers(conn: &mut Conn, material: i64) -> Result<Vec<Layer>, StorageError> {
    Ok(layers::table
        .filter(layers::material_id.eq(material))
        .order(layers::id)
        .select(Layer::as_select())
        .load(conn)?)
}

pub fn layer(conn: &mut Conn, id: i64) -> Result<Option<Layer>, StorageError> {
    Ok(layers::table
        .find(id)
        .select(Layer::as_select())
        .first(conn)
        .optional()?)
}

pub fn save_layer(conn: &mut Conn, layer: &Layer) -> Result<(), StorageError> {
    let insert = diesel::insert_into(layers::table).values(layer);
    Write {
        insert,
        key: "id",
        set: layer.as_changeset(),
    }
    .execute(conn)?;
    Ok(())
}
