//! Settings, rates, yearly figures, usual operations, counters, suppliers and customers.

use super::Conn;
use crate::error::StorageError;
use crate::kept::Count;
use crate::records::{
    Customer, CustomerMeasure, KindPayRate, Logo, OverheadRate, PayRate, Supplier, TaxRate,
    TaxReclaim, UsualOperation, Workshop, YearlyFigures,
};
use crate::schema::{
    bookings, customer_measures, customers, former_names, former_supplier_names, logos,
    overhead_rates, pay_rates, pay_rates_by_kind, suppliers, tax_rates, tax_reclaims,
    usual_operations, workshops, yearly_figures,
};
use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;
use ellwand_domain::setting::WorkKind;

pub fn workshop(conn: &mut Conn) -> Result<Option<Workshop>, StorageError> {
    Ok(workshops::table
        .select(Workshop::as_select())
        .first(conn)
        .optional()?)
}

/// The settings, once there are any, and when the last booking was made: one statement, since every write asks for both.
pub fn workshop_and_last(
    conn: &mut Conn,
) -> Result<(Option<Workshop>, Option<NaiveDateTime>), StorageError> {
    let last = bookings::table
        .select(bookings::booked_at)
        .order(bookings::id.desc())
        .limit(1);
    let both: Option<(Workshop, Option<NaiveDateTime>)> = workshops::table
        .select((Workshop::as_select(), last.single_value()))
        .first(conn)
        .optional()?;
    match both {
        Some((workshop, last)) => Ok((Some(workshop), last)),
        None => Ok((None, last.first(conn).optional()?)),
    }
}

pub fn save_workshop(conn: &mut Conn, workshop: &Workshop) -> Result<(), StorageError> {
    diesel::insert_into(workshops::table)
        .values(workshop)
        .on_conflict(workshops::id)
        .do_update()
        .set(workshop)
        .execute(conn)?;
    Ok(())
}

/// Takes `count` numbers of a kind and returns the first.
pub fn next_numbers(conn: &mut Conn, kind: &str, count: i64) -> Result<i64, StorageError> {
    let next: i64 = Count { kind, count }.get_result(conn)?;
    Ok(next - count)
}

pub fn pay_rates(conn: &mut Conn) -> Result<Vec<PayRate>, StorageError> {
    let newest = (pay_rates::from_date.desc(), pay_rates::person_id.asc());
    Ok(pay_rates::table
        .order(newest)
        .select(PayRate::as_select())
        .load(conn)?)
}

/// Rates of a person for all work, newest first.
pub fn pay_rates_of(conn: &mut Conn, person: i64) -> Result<Vec<PayRate>, StorageError> {
    let of = pay_rates::table.filter(pay_rates::person_id.eq(person));
    Ok(of
        .order(pay_rates::from_date.desc())
        .select(PayRate::as_select())
        .load(conn)?)
}

pub fn save_pay_rate(conn: &mut Conn, rate: &PayRate) -> Result<(), StorageError> {
    diesel::insert_into(pay_rates::table)
        .values(rate)
        .on_conflict((pay_rates::person_id, pay_rates::from_date))
        .do_update()
        .set(pay_rates::per_hour.eq(rate.per_hour))
        .execute(conn)?;
    Ok(())
}

/// Takes a rate out; false when there is none of the person and day.
pub fn delete_pay_rate(
    conn: &mut Conn,
    person: i64,
    from: NaiveDate,
) -> Result<bool, StorageError> {
    let of = pay_rates::table
        .filter(pay_rates::person_id.eq(person))
        .filter(pay_rates::from_date.eq(from));
    Ok(diesel::delete(of).execute(conn)? > 0)
}

pub fn kind_pay_rates(conn: &mut Conn) -> Result<Vec<KindPayRate>, StorageError> {
    use pay_rates_by_kind as column;
    let newest = (
        column::from_date.desc(),
        column::person_id.asc(),
        column::kind.asc(),
    );
    Ok(column::table
        .order(newest)
        .select(KindPayRate::as_select())
        .load(conn)?)
}

/// Rates of a person at kinds of work, newest first.
pub fn kind_pay_rates_of(conn: &mut Conn, person: i64) -> Result<Vec<KindPayRate>, StorageError> {
    use pay_rates_by_kind as column;
    let of = column::table.filter(column::person_id.eq(person));
    let newest = (column::from_date.desc(), column::kind.asc());
    Ok(of
        .order(newest)
        .select(KindPayRate::as_select())
        .load(conn)?)
}

pub fn save_kind_pay_rate(conn: &mut Conn, rate: &KindPayRate) -> Result<(), StorageError> {
    use pay_rates_by_kind as column;
    diesel::insert_into(column::table)
        .values(rate)
        .on_conflict((column::person_id, column::kind, column::from_date))
        .do_update()
        .set(column::per_hour.eq(rate.per_hour))
        .execute(conn)?;
    Ok(())
}

/// Takes a rate out; false when there is none of the person, kind and day.
pub fn delete_kind_pay_rate(
    conn: &mut Conn,
    person: i64,
    kind: WorkKind,
    from: NaiveDate,
) -> Result<bool, StorageError> {
    use pay_rates_by_kind as column;
    let of = column::table
        .filter(column::person_id.eq(person))
        .filter(column::kind.eq(kind.word()))
        .filter(column::from_date.eq(from));
    Ok(diesel::delete(of).execute(conn)? > 0)
}

pub fn overhead_rates(conn: &mut Conn) -> Result<Vec<OverheadRate>, StorageError> {
    let newest = overhead_rates::from_date.desc();
    Ok(overhead_rates::table
        .order(newest)
        .select(OverheadRate::as_select())
        .load(conn)?)
}

/// The overhead rate that counts on a day.
pub fn overhead_rate_on(
    conn: &mut Conn,
    day: NaiveDate,
) -> Result<Option<OverheadRate>, StorageError> {
    Ok(overhead_rates::table
        .filter(overhead_rates::from_date.le(day))
        .order(overhead_rates::from_date.desc())
        .select(OverheadRate::as_select())
        .first(conn)
        .optional()?)
}

pub fn save_overhead_rate(conn: &mut Conn, rate: &OverheadRate) -> Result<(), StorageError> {
    diesel::insert_into(overhead_rates::table)
        .values(rate)
        .on_conflict(overhead_rates::from_date)
        .do_update()
        .set((
            overhead_rates::amount.eq(rate.amount),
            overhead_rates::minutes.eq(rate.minutes),
        ))
        .execute(conn)?;
    Ok(())
}

pub fn delete_overhead_rate(conn: &mut Conn, from: NaiveDate) -> Result<(), StorageError> {
    let of = overhead_rates::table.filter(overhead_rates::from_date.eq(from));
    diesel::delete(of).execute(conn)?;
    Ok(())
}

pub fn delete_yearly_figures(conn: &mut Conn, from: NaiveDate) -> Result<(), StorageError> {
    let of = yearly_figures::table.filter(yearly_figures::from_date.eq(from));
    diesel::delete(of).execute(conn)?;
    Ok(())
}

/// Years' figures by the day from which they count.
pub fn yearly_figures(conn: &mut Conn) -> Result<Vec<YearlyFigures>, StorageError> {
    let newest = yearly_figures::from_date.desc();
    Ok(yearly_figures::table
        .order(newest)
        .select(YearlyFigures::as_select())
        .load(conn)?)
}

/// The year's figures that count on a day.
pub fn yearly_figures_on(
    conn: &mut Conn,
    day: NaiveDate,
) -> Result<Option<YearlyFigures>, StorageError> {
    Ok(yearly_figures::table
        .filter(yearly_figures::from_date.le(day))
        .order(yearly_figures::from_date.desc())
        .select(YearlyFigures::as_select())
        .first(conn)
        .optional()?)
}

pub fn save_yearly_figures(conn: &mut Conn, figures: &YearlyFigures) -> Result<(), StorageError> {
    use yearly_figures as column;
    diesel::insert_into(yearly_figures::table)
        .values(figures)
        .on_conflict(column::from_date)
        .do_update()
        .set((
            column::pay.eq(figures.pay),
            column::overhead.eq(figures.overhead),
            column::weeks.eq(figures.weeks),
            column::week_minutes.eq(figures.week_minutes),
            column::billable_ppm.eq(figures.billable_ppm),
        ))
        .execute(conn)?;
    Ok(())
}

/// Tax rates in the order they were added.
pub fn tax_rates(conn: &mut Conn) -> Result<Vec<TaxRate>, StorageError> {
    Ok(tax_rates::table
        .order(tax_rates::id.asc())
        .select(TaxRate::as_select())
        .load(conn)?)
}

/// Writes a tax rate; one of the same name keeps its number.
pub fn save_tax_rate(conn: &mut Conn, rate: &TaxRate) -> Result<(), StorageError> {
    diesel::insert_into(tax_rates::table)
        .values(rate)
        .on_conflict(tax_rates::name)
        .do_update()
        .set(tax_rates::ppm.eq(rate.ppm))
        .execute(conn)?;
    Ok(())
}

/// Takes a tax rate out; false when there is none of the name.
pub fn delete_tax_rate(conn: &mut Conn, name: &str) -> Result<bool, StorageError> {
    Ok(diesel::delete(tax_rates::table.filter(tax_rates::name.eq(name))).execute(conn)? > 0)
}

pub fn tax_reclaims(conn: &mut Conn) -> Result<Vec<TaxReclaim>, StorageError> {
    let newest = tax_reclaims::from_date.desc();
    Ok(tax_reclaims::table
        .order(newest)
        .select(TaxReclaim::as_select())
        .load(conn)?)
}

/// What counts on a day.
pub fn tax_reclaim_on(conn: &mut Conn, day: NaiveDate) -> Result<Option<TaxReclaim>, StorageError> {
    Ok(tax_reclaims::table
        .filter(tax_reclaims::from_date.le(day))
        .order(tax_reclaims::from_date.desc())
        .select(TaxReclaim::as_select())
        .first(conn)
        .optional()?)
}

pub fn save_tax_reclaim(conn: &mut Conn, reclaim: &TaxReclaim) -> Result<(), StorageError> {
    diesel::insert_into(tax_reclaims::table)
        .values(reclaim)
        .on_conflict(tax_reclaims::from_date)
        .do_update()
        .set(tax_reclaims::reclaimed.eq(reclaim.reclaimed))
        .execute(conn)?;
    Ok(())
}

/// Takes it out; false when nothing counts from that day.
pub fn delete_tax_reclaim(conn: &mut Conn, from: NaiveDate) -> Result<bool, StorageError> {
    Ok(
        diesel::delete(tax_reclaims::table.filter(tax_reclaims::from_date.eq(from)))
            .execute(conn)?
            > 0,
    )
}

pub fn logo(conn: &mut Conn, id: i64) -> Result<Option<Logo>, StorageError> {
    let row = logos::table.find(id).select(Logo::as_select());
    Ok(row.first(conn).optional()?)
}

pub fn logo_like(conn: &mut Conn, picture: &str) -> Result<Option<Logo>, StorageError> {
    let same = logos::table.filter(logos::picture.eq(picture));
    Ok(same.select(Logo::as_select()).first(conn).optional()?)
}

pub fn insert_logo(conn: &mut Conn, logo: &Logo) -> Result<(), StorageError> {
    diesel::insert_into(logos::table)
        .values(logo)
        .execute(conn)?;
    Ok(())
}

pub fn usual_operations(conn: &mut Conn) -> Result<Vec<UsualOperation>, StorageError> {
    let by_name = usual_operations::name_search;
    Ok(usual_operations::table
        .order(by_name)
        .select(UsualOperation::as_select())
        .load(conn)?)
}

pub fn usual_operation(
    conn: &mut Conn,
    name: &str,
) -> Result<Option<UsualOperation>, StorageError> {
    let named = usual_operations::table.find(name.to_lowercase());
    Ok(named
        .select(UsualOperation::as_select())
        .first(conn)
        .optional()?)
}

pub fn save_usual_operation(
    conn: &mut Conn,
    operation: &UsualOperation,
) -> Result<(), StorageError> {
    diesel::insert_into(usual_operations::table)
        .values((
            operation,
            usual_operations::name_search.eq(operation.name.to_lowercase()),
        ))
        .on_conflict(usual_operations::name_search)
        .do_update()
        .set(operation)
        .execute(conn)?;
    Ok(())
}

/// Takes a usual operation out; false when there is none of the name.
pub fn delete_usual_operation(conn: &mut Conn, name: &str) -> Result<bool, StorageError> {
    Ok(diesel::delete(usual_operations::table.find(name.to_lowercase())).execute(conn)? > 0)
}

pub fn suppliers(conn: &mut Conn) -> Result<Vec<Supplier>, StorageError> {
    Ok(suppliers::table
        .order(suppliers::name)
        .select(Supplier::as_select())
        .load(conn)?)
}

pub fn supplier(conn: &mut Conn, id: i64) -> Result<Option<Supplier>, StorageError> {
    Ok(suppliers::table
        .find(id)
        .select(Supplier::as_select())
        .first(conn)
        .optional()?)
}

pub fn supplier_named(conn: &mut Conn, name: &str) -> Result<Option<Supplier>, StorageError> {
    let named = suppliers::table.filter(suppliers::name.eq(name));
    Ok(named.select(Supplier::as_select()).first(conn).optional()?)
}

pub fn save_supplier(conn: &mut Conn, supplier: &Supplier) -> Result<(), StorageError> {
    diesel::insert_into(suppliers::table)
        .values(supplier)
        .on_conflict(suppliers::id)
        .do_update()
        .set(supplier)
        .execute(conn)?;
    Ok(())
}

pub fn customers(conn: &mut Conn) -> Result<Vec<Customer>, StorageError> {
    Ok(customers::table
        .order(customers::name)
        .select(Customer::as_select())
        .load(conn)?)
}

pub fn customer(conn: &mut Conn, id: i64) -> Result<Option<Customer>, StorageError> {
    Ok(customers::table
        .find(id)
        .select(Customer::as_select())
        .first(conn)
        .optional()?)
}

pub fn customer_named(conn: &mut Conn, name: &str) -> Result<Option<Customer>, StorageError> {
    let named = customers::table.filter(customers::name.eq(name));
    Ok(named.select(Customer::as_select()).first(conn).optional()?)
}

pub fn save_customer(conn: &mut Conn, customer: &Customer) -> Result<(), StorageError> {
    diesel::insert_into(customers::table)
        .values(customer)
        .on_conflict(customers::id)
        .do_update()
        .set(customer)
        .execute(conn)?;
    Ok(())
}

/// Names that a customer had before.
pub fn former_names(conn: &mut Conn, customer: i64) -> Result<Vec<String>, StorageError> {
    Ok(former_names::table
        .filter(former_names::customer_id.eq(customer))
        .order(former_names::name)
        .select(former_names::name)
        .load(conn)?)
}

/// Customers that had a name before, by code.
pub fn customers_once_named(conn: &mut Conn, name: &str) -> Result<Vec<Customer>, StorageError> {
    let once = former_names::table.filter(former_names::name.eq(name));
    Ok(customers::table
        .filter(customers::id.eq_any(once.select(former_names::customer_id)))
        .order(customers::id)
        .select(Customer::as_select())
        .load(conn)?)
}

/// Suppliers that had a name before, by code.
pub fn suppliers_once_named(conn: &mut Conn, name: &str) -> Result<Vec<Supplier>, StorageError> {
    let once = former_supplier_names::table.filter(former_supplier_names::name.eq(name));
    Ok(suppliers::table
        .filter(suppliers::id.eq_any(once.select(former_supplier_names::supplier_id)))
        .order(suppliers::id)
        .select(Supplier::as_select())
        .load(conn)?)
}

/// Remembers a name that a supplier had.
pub fn remember_supplier_name(
    conn: &mut Conn,
    supplier: i64,
    name: &str,
) -> Result<(), StorageError> {
    let row = (
        former_supplier_names::supplier_id.eq(supplier),
        former_supplier_names::name.eq(name),
    );
    diesel::insert_into(former_supplier_names::table)
        .values(row)
        .on_conflict_do_nothing()
        .execute(conn)?;
    Ok(())
}

/// Remembers a name that a customer had.
pub fn remember_name(conn: &mut Conn, customer: i64, name: &str) -> Result<(), StorageError> {
    let row = (
        former_names::customer_id.eq(customer),
        former_names::name.eq(name),
    );
    diesel::insert_into(former_names::table)
        .values(row)
        .on_conflict_do_nothing()
        .execute(conn)?;
    Ok(())
}

pub fn insert_measure(conn: &mut Conn, measure: &CustomerMeasure) -> Result<(), StorageError> {
    diesel::insert_into(customer_measures::table)
        .values(measure)
        .execute(conn)?;
    Ok(())
}

/// Measurements of a customer that stand, the oldest first.
pub fn measures_of(conn: &mut Conn, customer: i64) -> Result<Vec<CustomerMeasure>, StorageError> {
    Ok(customer_measures::table
        .filter(customer_measures::customer_id.eq(customer))
        .filter(customer_measures::undone_by.is_null())
        .order((customer_measures::on_date, customer_measures::booking_id))
        .select(CustomerMeasure::as_select())
        .load(conn)?)
}

/// Takes all measurements of a customer out.
pub fn delete_measures(conn: &mut Conn, customer: i64) -> Result<(), StorageError> {
    let of = customer_measures::table.filter(customer_measures::customer_id.eq(customer));
    diesel::delete(of).execute(conn)?;
    Ok(())
}

/// Forgets the names that a customer had.
pub fn forget_names(conn: &mut Conn, customer: i64) -> Result<(), StorageError> {
    let of = former_names::table.filter(former_names::customer_id.eq(customer));
    diesel::delete(of).execute(conn)?;
    Ok(())
}
