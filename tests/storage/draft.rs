//! Records with every column set to something plain, to be varied by the cases.

use crate::sample::M;
use chrono::{NaiveDate, NaiveDateTime};
use ellwand_domain::{
    ledger::{Piece, Quantity, Rectangle},
    quantity::{Micrometres, Millionths},
    setting::{
        BookingKind, GarmentState, Kind, OffcutValue, PooledMethod, PricesShown, ReservationState,
        Rounding, TaxPlace, UnitSystem,
    },
};
use ellwand_storage::{
    Booking, Customer, Garment, Lot, Material, Need, Person, Purchase, PurchaseLine, Request,
    Reservation, StorageError, StoredPiece, Supplier, Tx, Workshop,
};
use std::collections::HashMap;

/// A day of October 2026.
pub fn day(day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 10, day).unwrap()
}

/// An instant of that day, with microseconds: what both databases keep.
pub fn instant(of: u32) -> NaiveDateTime {
    day(of).and_hms_micro_opt(9, 30, 1, 123_456).unwrap()
}

pub fn micrometres(um: i64) -> Micrometres {
    Micrometres::new(um).unwrap()
}

pub fn quantity(number: i64) -> Quantity {
    Quantity::new(number).unwrap()
}

pub fn workshop() -> Workshop {
    Workshop {
        id: 1,
        currency: "EUR".into(),
        currency_fixed: false,
        zone: "Europe/Lisbon".into(),
        units: UnitSystem::Metric,
        date_order: None,
        cutting_step_um: 10_000,
        end_allowance_um: 20_000,
        offcut_length_um: 300_000,
        offcut_width_um: 200_000,
        strip_value: OffcutValue::Area,
        pooled_method: PooledMethod::Fifo,
        pooled_method_fixed: false,
        closed_to: None,
        version: 0,
        changed_by: None,
        changed_at: None,
        changed_what: None,
        prices_shown: PricesShown::WithoutTax,
        tax_rounding: Rounding::HalfUp,
        tax_place: TaxPlace::Rate,
        cash_step_minor: None,
        head: "{}".to_owned(),
        price_rule: None,
        words: "{}".to_owned(),
    }
}

pub fn booking(id: i64) -> Booking {
    Booking {
        id,
        kind: BookingKind::Bought,
        summary: format!("Booked number {id}."),
        on_date: day(1),
        booked_at: instant(2),
        undoes: None,
        detail: "{}".into(),
        person_id: ADA,
        request_id: request(id).id,
    }
}

/// The request that booked a booking.
pub fn request(booking: i64) -> Request {
    Request {
        id: format!("0192f0c0-0000-7000-8000-{booking:012}"),
        act: "buy".into(),
        caller: "ada".into(),
        content: "{}".into(),
        answer: "{}".into(),
        answered_at: instant(2),
        erased_at: None,
        refused: false,
    }
}

/// People that the tests name.
pub const ADA: i64 = 2;
pub const BO: i64 = 3;

pub fn person(id: i64, name: &str, paid: bool) -> Person {
    let (name, skeleton) = (name.to_owned(), name.to_owned());
    Person {
        id,
        name,
        skeleton,
        paid,
        made_at: instant(1),
        made_by: "owner".into(),
    }
}

/// Writes the people, and the requests of as many bookings as a test makes.
pub fn people(tx: &mut Tx<'_>) -> Result<(), StorageError> {
    for (id, name, paid) in [
        (Person::OWNER, "owner", false),
        (ADA, "ada", true),
        (BO, "bo", true),
    ] {
        tx.insert_person(&person(id, name, paid))?;
    }
    for booking in 1..=40 {
        tx.insert_request(&request(booking))?;
    }
    Ok(())
}

pub fn supplier(id: i64, name: &str) -> Supplier {
    Supplier {
        id,
        name: name.into(),
        note: String::new(),
    }
}

pub fn customer(id: i64, name: &str) -> Customer {
    Customer {
        id,
        name: name.into(),
        note: String::new(),
    }
}

pub fn material(id: i64, kind: Kind, name: &str) -> Material {
    Material {
        id,
        kind,
        name: name.into(),
        sheet: "{}".into(),
        counted: false,
        least: None,
    }
}

pub fn purchase(id: i64) -> Purchase {
    Purchase {
        id,
        booking_id: 1,
        undone_by: None,
        supplier_id: None,
        on_date: day(1),
        invoice: None,
        currency: "EUR".into(),
        rate: None,
        invoice_minor: 6_000,
        home_value: 60 * M,
        remarks: "[]".into(),
        note: None,
        opening: false,
        file_sha256: None,
    }
}

pub fn line(purchase_id: i64, position: i64, lot_id: i64) -> PurchaseLine {
    PurchaseLine {
        purchase_id,
        position,
        lot_id,
        price_minor: 2_000,
        amount_minor: 6_000,
        landed: 60 * M,
        quantity: 3 * M,
        length_um: None,
        mass_mg: None,
    }
}

pub fn lot(id: i64, material_id: i64) -> Lot {
    Lot {
        id,
        material_id,
        purchase_id: 1,
        owner_id: None,
        received: day(1),
        dye_lot: None,
        paid: None,
        sheet: "{}".into(),
        colour: "navy".into(),
        mass_mg_m2: None,
        next_piece: 2,
        landed: 60 * M,
        unpriced: false,
        replacement_value: None,
        replacement_per: None,
        value_estimated: false,
    }
}

/// 3 m of cloth, 1.50 m wide with 1 cm of selvedge on either side, worth 60.
pub fn cloth(id: i64, lot_id: i64, number: i64) -> StoredPiece {
    let rectangle = Rectangle {
        full: micrometres(1_500_000),
        selvedges: micrometres(20_000),
    };
    let piece = Piece::new(
        id,
        quantity(3 * M),
        Some(rectangle),
        Millionths::new(60 * M).unwrap(),
    );
    StoredPiece {
        piece,
        lot_id,
        number,
        preparation: None,
        offcut: false,
        place: None,
        received: day(1),
        prepared: None,
        last_on: day(1),
        mass_factor_ppm: 1_000_000,
        tare: None,
        estimated: false,
        until: HashMap::new(),
    }
}

/// Thread or trims: no width and no value.
pub fn loose(id: i64, lot_id: i64, number: i64, amount: i64) -> StoredPiece {
    let piece = Piece::new(id, quantity(amount), None, Millionths::new(0).unwrap());
    StoredPiece {
        piece,
        ..cloth(id, lot_id, number)
    }
}

pub fn garment(id: i64) -> Garment {
    Garment {
        id,
        name: format!("coat {id}"),
        customer_id: None,
        count: 1,
        good: None,
        spoiled: None,
        spoilage: None,
        salvage: 0,
        due: None,
        state: GarmentState::Planned,
        note: None,
    }
}

pub fn need(id: i64, garment_id: i64) -> Need {
    Need {
        id,
        garment_id,
        role: format!("shell {id}"),
        kind: Kind::Cloth,
        need: "{}".into(),
        units: 1,
        estimate: None,
        dropped: false,
        detail: None,
        same_lot_as: None,
    }
}

/// An active promise for need 1.
pub fn reservation(id: i64, piece_id: i64, held: i64) -> Reservation {
    Reservation {
        id,
        need_id: 1,
        piece_id,
        state: ReservationState::Active,
        held,
        stretch: 0,
        asked: "{}".into(),
        promised: day(3),
        until: None,
        booking_id: 1,
        ended_by: None,
        ended_because: None,
        quotation_id: None,
        first_id: None,
        lengths: 1,
        share: None,
        lay_id: None,
    }
}
