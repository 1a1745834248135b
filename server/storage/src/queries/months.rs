//! Totals of months, and what is added up from the days of a period.

use super::Conn;
use crate::error::StorageError;
use crate::kept::Write;
use crate::month::{DayAct, LedgerFlow, OwedOn, PaidSum, QuotedSum, Worked};
use crate::records::Material;
use crate::schema::{
    booking_subjects, bookings, layers, lots, materials, month_stock, month_totals, payments,
    pieces, quotation_versions, quotations, work_entries,
};
use chrono::{Datelike, NaiveDate};
use diesel::{
    dsl::sql,
    prelude::*,
    sql_types::{BigInt, Bool, Nullable, Text},
};
use ellwand_domain::{
    ledger::{Account, AccountKind, Movement},
    month::{Flow, Spans},
    setting::{BookingKind, Kind, QuotationState, Subject, TrimUnit, WorkKind},
};
use std::collections::{BTreeMap, HashMap};

/// Stands for the kind of what is no material any more.
const NO_KIND: &str = "none";

/// What a place holds: its material with kind and unit.
type Held = (i64, Kind, bool);

/// What lies in a place. Some(None): it belongs to a customer; None: it holds no material.
fn held(conn: &mut Conn, place: Account) -> Result<Option<Option<Held>>, StorageError> {
    let of = (materials::id, materials::kind, materials::counted);
    Ok(match place.kind {
        AccountKind::Piece => pieces::table
            .inner_join(lots::table.inner_join(materials::table))
            .filter(pieces::id.eq(place.id))
            .select((of, lots::owner_id))
            .first::<(Held, Option<i64>)>(conn)
            .optional()?
            .map(|(held, owner)| owner.is_none().then_some(held)),
        AccountKind::Layer => layers::table
            .inner_join(materials::table)
            .filter(layers::id.eq(place.id))
            .select(of)
            .first::<Held>(conn)
            .optional()?
            .map(Some),
        _ => None,
    })
}

/// A flow without its sums.
type Way = (&'static str, bool, AccountKind, AccountKind);

/// Adds the movements of a booking to the totals of its month and its year.
pub(super) fn add(conn: &mut Conn, day: NaiveDate, lines: &[Movement]) -> Result<(), StorageError> {
    let mut known: HashMap<Account, Option<Option<Held>>> = HashMap::new();
    let mut flows: BTreeMap<Way, [i64; 3]> = BTreeMap::new();
    let mut stock: BTreeMap<i64, i64> = BTreeMap::new();
    for line in lines {
        let shelf =
            |place: &&Account| matches!(place.kind, AccountKind::Piece | AccountKind::Layer);
        let of = match [line.from, line.to].iter().find(shelf) {
            None => None,
            Some(place) => match known.get(place) {
                Some(held) => *held,
                None => {
                    let found = held(conn, *place)?;
                    known.insert(*place, found);
                    found
                }
            },
        };
        // Customers' own cloth counts nowhere.
        if of == Some(None) {
            continue;
        }
        let of = of.flatten();
        let (out, into) = (line.quantity_out.get(), line.quantity_in.get());
        if let Some((material, ..)) = of {
            let grown = stock.entry(material).or_default();
            if line.to.kind == AccountKind::Piece {
                *grown = grown.saturating_add(into);
            }
            if line.from.kind == AccountKind::Piece {
                *grown = grown.saturating_sub(out);
            }
        }
        let kind = of.map_or(NO_KIND, |(_, kind, _)| kind.word());
        let way = (
            kind,
            of.is_some_and(|(.., counted)| counted),
            line.from.kind,
            line.to.kind,
        );
        let sums = flows.entry(way).or_default();
        for (sum, more) in sums.iter_mut().zip([out, into, line.value.get()]) {
            *sum = sum.saturating_add(more);
        }
    }
    let spans = [(false, day.with_day(1)), (true, day.with_ordinal(1))];
    for (whole_year, first) in spans {
        let span = (whole_year, first.unwrap_or(day));
        for (way, sums) in &flows {
            add_flow(conn, span, *way, *sums)?;
        }
        for (material, grown) in stock.iter().filter(|(_, grown)| **grown != 0) {
            add_stock(conn, span, *material, *grown)?;
        }
    }
    Ok(())
}

/// The first day of a month, or of a year where that is true.
type Span = (bool, NaiveDate);

fn add_stock(
    conn: &mut Conn,
    (whole_year, first): Span,
    material: i64,
    grown: i64,
) -> Result<(), StorageError> {
    let row = (
        month_stock::material_id.eq(material),
        month_stock::whole_year.eq(whole_year),
        month_stock::month.eq(first),
        month_stock::quantity.eq(grown),
    );
    Write {
        insert: diesel::insert_into(month_stock::table).values(row),
        key: "material_id, whole_year, month",
        set: month_stock::quantity
            .eq(month_stock::quantity + grown)
            .as_changeset(),
    }
    .execute(conn)?;
    Ok(())
}

fn add_flow(
    conn: &mut Conn,
    (whole_year, first): Span,
    (kind, counted, from, to): Way,
    [out, into, value]: [i64; 3],
) -> Result<(), StorageError> {
    let row = (
        month_totals::whole_year.eq(whole_year),
        month_totals::month.eq(first),
        month_totals::kind.eq(kind),
        month_totals::unit.eq(TrimUnit::of(counted)),
        month_totals::from_kind.eq(from),
        month_totals::to_kind.eq(to),
        month_totals::quantity_out.eq(out),
        month_totals::quantity_in.eq(into),
        month_totals::value.eq(value),
    );
    let more = (
        month_totals::quantity_out.eq(month_totals::quantity_out + out),
        month_totals::quantity_in.eq(month_totals::quantity_in + into),
        month_totals::value.eq(month_totals::value + value),
    );
    Write {
        insert: diesel::insert_into(month_totals::table).values(row),
        key: "whole_year, month, kind, unit, from_kind, to_kind",
        set: more.as_changeset(),
    }
    .execute(conn)?;
    Ok(())
}

/// The rows that whole months are added up from, which are the fewest: years in them, and the months beside these.
fn rows_of(first: NaiveDate, last: NaiveDate) -> String {
    let spans = Spans::between(first, last);
    let years = spans.years.iter().map(|range| ("", range));
    let months = spans.months.iter().map(|range| ("NOT ", range));
    let row = |(not, (first, last)): (&str, &(NaiveDate, NaiveDate))| {
        format!("({not}whole_year AND month BETWEEN '{first}' AND '{last}')")
    };
    let rows: Vec<String> = years.chain(months).map(row).collect();
    format!("({})", rows.join(" OR "))
}

/// What moved in whole months, by their first days, both included.
pub fn flows_of_months(
    conn: &mut Conn,
    first: NaiveDate,
    last: NaiveDate,
) -> Result<Vec<Flow>, StorageError> {
    let query = format!(
        "SELECT CAST(NULL AS BIGINT) AS material, kind, unit, from_kind, to_kind, \
         CAST(SUM(quantity_out) AS BIGINT) AS quantity_out, \
         CAST(SUM(quantity_in) AS BIGINT) AS quantity_in, CAST(SUM(value) AS BIGINT) AS value \
         FROM month_totals WHERE {} \
         GROUP BY kind, unit, from_kind, to_kind ORDER BY kind, unit, from_kind, to_kind",
        rows_of(first, last)
    );
    let rows: Vec<FlowRow> = diesel::sql_query(query).load(conn)?;
    Ok(rows.into_iter().map(|row| row.flow().flow).collect())
}

#[derive(QueryableByName)]
struct FlowRow {
    #[diesel(sql_type = Nullable<BigInt>)]
    material: Option<i64>,
    #[diesel(sql_type = Text)]
    kind: String,
    #[diesel(sql_type = Text)]
    unit: TrimUnit,
    #[diesel(sql_type = Text)]
    from_kind: AccountKind,
    #[diesel(sql_type = Text)]
    to_kind: AccountKind,
    #[diesel(sql_type = BigInt)]
    quantity_out: i64,
    #[diesel(sql_type = BigInt)]
    quantity_in: i64,
    #[diesel(sql_type = BigInt)]
    value: i64,
}

impl FlowRow {
    fn flow(self) -> LedgerFlow {
        LedgerFlow {
            material: self.material,
            flow: Flow {
                kind: self.kind.parse().ok(),
                unit: self.unit,
                from: self.from_kind,
                to: self.to_kind,
                quantity_out: self.quantity_out,
                quantity_in: self.quantity_in,
                value: self.value,
            },
        }
    }
}

/// The same on some days, by material too, added up from the ledger: found by the index on the day.
pub fn flows_of_days(
    conn: &mut Conn,
    first: NaiveDate,
    last: NaiveDate,
) -> Result<Vec<LedgerFlow>, StorageError> {
    let at = |kind: &str| {
        format!(
            "CASE WHEN movements.from_kind = '{kind}' THEN movements.from_id \
             WHEN movements.to_kind = '{kind}' THEN movements.to_id END"
        )
    };
    let query = format!(
        "SELECT materials.id AS material, COALESCE(materials.kind, '{NO_KIND}') AS kind, \
         CASE WHEN materials.counted THEN 'count' ELSE 'length' END AS unit, \
         movements.from_kind AS from_kind, movements.to_kind AS to_kind, \
         CAST(SUM(movements.quantity_out) AS BIGINT) AS quantity_out, \
         CAST(SUM(movements.quantity_in) AS BIGINT) AS quantity_in, \
         CAST(SUM(movements.value) AS BIGINT) AS value \
         FROM bookings JOIN movements ON movements.booking_id = bookings.id \
         LEFT JOIN pieces ON pieces.id = {piece} LEFT JOIN lots ON lots.id = pieces.lot_id \
         LEFT JOIN layers ON layers.id = {layer} \
         LEFT JOIN materials ON materials.id = COALESCE(lots.material_id, layers.material_id) \
         WHERE bookings.on_date BETWEEN '{first}' AND '{last}' AND lots.owner_id IS NULL \
         GROUP BY 1, 2, 3, 4, 5 ORDER BY 1, 4, 5",
        piece = at("piece"),
        layer = at("layer"),
    );
    let rows: Vec<FlowRow> = diesel::sql_query(query).load(conn)?;
    Ok(rows.into_iter().map(FlowRow::flow).collect())
}

/// By how much the pieces of materials grew in whole months: of those with a least level, or of all.
pub fn stock_of_months(
    conn: &mut Conn,
    first: NaiveDate,
    last: NaiveDate,
    all: bool,
) -> Result<Vec<(i64, i64)>, StorageError> {
    let sum = sql::<BigInt>("CAST(SUM(quantity) AS BIGINT)");
    let mut query = month_stock::table
        .filter(sql::<Bool>(&rows_of(first, last)))
        .group_by(month_stock::material_id)
        .order(month_stock::material_id)
        .select((month_stock::material_id, sum))
        .into_boxed();
    if !all {
        let watched = materials::table.filter(materials::least.is_not_null());
        query = query.filter(month_stock::material_id.eq_any(watched.select(materials::id)));
    }
    Ok(query.load(conn)?)
}

/// First days of the months that have totals, in order; of those of a year that of its January.
pub fn months_with_totals(conn: &mut Conn) -> Result<Vec<NaiveDate>, StorageError> {
    let mut months: Vec<NaiveDate> = month_totals::table
        .select(month_totals::month)
        .distinct()
        .load(conn)?;
    let stock = month_stock::table.select(month_stock::month).distinct();
    months.extend(stock.load::<NaiveDate>(conn)?);
    months.sort_unstable();
    months.dedup();
    Ok(months)
}

/// The first day and the last that something is booked on.
pub fn days_booked(conn: &mut Conn) -> Result<Option<(NaiveDate, NaiveDate)>, StorageError> {
    let days = bookings::table.select(bookings::on_date);
    let first = days.order(bookings::on_date).first(conn).optional()?;
    let last = days
        .order(bookings::on_date.desc())
        .first(conn)
        .optional()?;
    Ok(first.zip(last))
}

/// Garments that a booking of a kind touched on some days and that was not taken back.
pub fn garments_booked(
    conn: &mut Conn,
    kind: BookingKind,
    first: NaiveDate,
    last: NaiveDate,
) -> Result<Vec<DayAct>, StorageError> {
    Ok(bookings::table
        .inner_join(booking_subjects::table)
        .filter(booking_subjects::subject.eq(Subject::Garment))
        .filter(bookings::kind.eq(kind))
        .filter(bookings::on_date.between(first, last))
        .filter(stands!())
        .order(bookings::id)
        .select((booking_subjects::subject_id, bookings::on_date))
        .load(conn)?)
}

/// Offers that are dated on these days and stand: the newest version of each quotation that is one.
pub fn quoted_between(
    conn: &mut Conn,
    first: NaiveDate,
    last: NaiveDate,
) -> Result<Vec<QuotedSum>, StorageError> {
    let rows: Vec<(i64, i64)> = bookings::table
        .inner_join(quotation_versions::table.on(quotation_versions::booking_id.eq(bookings::id)))
        .filter(bookings::on_date.between(first, last))
        .filter(quotation_versions::undone_by.is_null())
        .filter(quotation_versions::is_offer)
        .order((
            quotation_versions::quotation_id,
            quotation_versions::version,
        ))
        .select((
            quotation_versions::quotation_id,
            quotation_versions::gross_minor,
        ))
        .load(conn)?;
    let newest: BTreeMap<i64, i64> = rows.into_iter().collect();
    let sum = |(quotation, minor)| QuotedSum { quotation, minor };
    Ok(newest.into_iter().map(sum).collect())
}

/// Quotations that were accepted on these days and are accepted still.
pub fn accepted_between(
    conn: &mut Conn,
    first: NaiveDate,
    last: NaiveDate,
) -> Result<Vec<QuotedSum>, StorageError> {
    Ok(bookings::table
        .inner_join(quotations::table.on(quotations::accepted_in.eq(bookings::id.nullable())))
        .filter(bookings::on_date.between(first, last))
        .filter(quotations::state.eq(QuotationState::Accepted))
        .order(quotations::id)
        .select((quotations::id, quotations::agreed_minor.assume_not_null()))
        .load(conn)?)
}

/// Payments of these days that stand.
pub fn paid_between(
    conn: &mut Conn,
    first: NaiveDate,
    last: NaiveDate,
) -> Result<PaidSum, StorageError> {
    let sums: Vec<i64> = bookings::table
        .inner_join(payments::table.on(payments::booking_id.eq(bookings::id)))
        .filter(bookings::on_date.between(first, last))
        .filter(payments::undone_by.is_null())
        .select(payments::minor)
        .load(conn)?;
    Ok(PaidSum {
        count: i64::try_from(sums.len()).unwrap_or(i64::MAX),
        minor: sums.iter().fold(0, |sum, minor| sum.saturating_add(*minor)),
    })
}

/// Accepted quotations with what was agreed to and paid until a day, where these differ; supplements with what they supplement.
pub fn owed_on(conn: &mut Conn, day: NaiveDate) -> Result<Vec<OwedOn>, StorageError> {
    type Row = (i64, Option<i64>, i64, Option<i64>, i64);
    let agreed: Vec<Row> = quotations::table
        .inner_join(bookings::table.on(quotations::accepted_in.eq(bookings::id.nullable())))
        .filter(quotations::state.eq(QuotationState::Accepted))
        .filter(bookings::on_date.le(day))
        .order(quotations::id)
        .select((
            quotations::id,
            quotations::supplement_to,
            quotations::garment_id,
            quotations::customer_id,
            quotations::agreed_minor.assume_not_null(),
        ))
        .load(conn)?;
    let paid: HashMap<i64, i64> = payments::table
        .inner_join(quotations::table)
        .filter(quotations::state.eq(QuotationState::Accepted))
        .filter(payments::undone_by.is_null())
        .filter(payments::on_date.le(day))
        .group_by(payments::quotation_id)
        .select((
            payments::quotation_id,
            sql::<BigInt>("CAST(SUM(minor + rounding_minor) AS BIGINT)"),
        ))
        .load::<(i64, i64)>(conn)?
        .into_iter()
        .collect();
    let mut owed: BTreeMap<i64, OwedOn> = BTreeMap::new();
    for (id, base, garment, customer, agreed) in agreed {
        let quotation = base.unwrap_or(id);
        let sum = owed.entry(quotation).or_insert(OwedOn {
            quotation,
            garment,
            customer,
            agreed: 0,
            settled: 0,
        });
        sum.agreed = sum.agreed.saturating_add(agreed);
        sum.settled = sum
            .settled
            .saturating_add(paid.get(&id).copied().unwrap_or(0));
    }
    Ok(owed
        .into_values()
        .filter(|sum| sum.agreed != sum.settled)
        .collect())
}

/// Minutes of these days that stand, by person and kind of work; found by the index on the day.
pub fn worked_between(
    conn: &mut Conn,
    first: NaiveDate,
    last: NaiveDate,
) -> Result<Vec<Worked>, StorageError> {
    type Row = (i64, WorkKind, bool, i64);
    let rows: Vec<Row> = work_entries::table
        .filter(work_entries::on_date.between(first, last))
        .filter(work_entries::undone_by.is_null())
        .select((
            work_entries::person_id,
            work_entries::kind,
            work_entries::billable,
            work_entries::minutes,
        ))
        .load(conn)?;
    let mut sums: BTreeMap<(i64, WorkKind, bool), i64> = BTreeMap::new();
    for (person, kind, billable, minutes) in rows {
        let sum = sums.entry((person, kind, billable)).or_default();
        *sum = sum.saturating_add(minutes);
    }
    let worked = |((person, kind, billable), minutes)| Worked {
        person,
        kind,
        billable,
        minutes,
    };
    Ok(sums.into_iter().map(worked).collect())
}

/// Materials with a least level, by name.
pub fn materials_with_least(conn: &mut Conn) -> Result<Vec<Material>, StorageError> {
    Ok(materials::table
        .filter(materials::least.is_not_null())
        .order((materials::kind, materials::name))
        .select(Material::as_select())
        .load(conn)?)
}
