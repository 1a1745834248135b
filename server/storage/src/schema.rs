//! The tables, as both dialects have them: those that others refer to first, and the settings last, since they may close the
//! books to what is older.

use crate::table::{Column, Kind, Table};

/// The tables for Diesel, and the same described for copying books.
macro_rules! tables {
    ($($name:ident ($($key:ident),+) { $($column:ident -> $kind:ident $(<$inner:ident>)?,)* })*) => {
        $(diesel::table! {
            $name ($($key),+) { $($column -> $kind $(<$inner>)?,)* }
        })*

        /// All tables in the order in which a book is filled.
        pub(crate) const TABLES: &[Table] = &[$(Table {
            name: stringify!($name),
            key: &[$(stringify!($key)),+],
            columns: &[$(Column { name: stringify!($column), kind: tables!(@kind $kind $($inner)?) },)*],
        },)*];
    };
    (@kind Nullable $inner:ident) => { Kind::$inner };
    (@kind $kind:ident) => { Kind::$kind };
}

tables! {
    counters (kind) {
        kind -> Text,
        next_number -> BigInt,
    }
    people (id) {
        id -> BigInt,
        name -> Text,
        skeleton -> Text,
        paid -> Bool,
        made_at -> Timestamp,
        made_by -> Text,
    }
    pay_rates (id) {
        id -> BigInt,
        person_id -> BigInt,
        per_hour -> BigInt,
        from_date -> Date,
    }
    pay_rates_by_kind (id) {
        id -> BigInt,
        person_id -> BigInt,
        kind -> Text,
        per_hour -> BigInt,
        from_date -> Date,
    }
    overhead_rates (id) {
        id -> BigInt,
        amount -> BigInt,
        minutes -> BigInt,
        from_date -> Date,
    }
    yearly_figures (id) {
        id -> BigInt,
        pay -> BigInt,
        overhead -> BigInt,
        weeks -> BigInt,
        week_minutes -> BigInt,
        billable_ppm -> BigInt,
        from_date -> Date,
    }
    overhead_spent (id) {
        id -> BigInt,
        from_date -> Date,
        to_date -> Date,
        amount -> BigInt,
    }
    tax_rates (id) {
        id -> BigInt,
        name -> Text,
        ppm -> BigInt,
    }
    tax_reclaims (id) {
        id -> BigInt,
        reclaimed -> Bool,
        from_date -> Date,
    }
    logos (id) {
        id -> BigInt,
        kind -> Text,
        picture -> Text,
    }
    usual_operations (name_search) {
        name_search -> Text,
        name -> Text,
        kind -> Text,
        minutes -> BigInt,
        billable -> Bool,
    }
    suppliers (id) {
        id -> BigInt,
        name -> Text,
        note -> Text,
    }
    customers (id) {
        id -> BigInt,
        name -> Text,
        note -> Text,
    }
    customer_measures (booking_id, name) {
        booking_id -> BigInt,
        undone_by -> Nullable<BigInt>,
        customer_id -> BigInt,
        name -> Text,
        length_um -> BigInt,
        typed -> Text,
        on_date -> Date,
    }
    former_names (customer_id, name) {
        customer_id -> BigInt,
        name -> Text,
    }
    former_supplier_names (supplier_id, name) {
        supplier_id -> BigInt,
        name -> Text,
    }
    tokens (id) {
        id -> BigInt,
        person_id -> BigInt,
        role -> Text,
        hash -> Text,
        made_at -> Timestamp,
        made_by -> Text,
        revoked_at -> Nullable<Timestamp>,
        revoked_by -> Nullable<Text>,
        label -> Nullable<Text>,
        made_on -> Date,
        valid_until -> Nullable<Date>,
        used_on -> Nullable<Date>,
    }
    token_grants (token_id, word) {
        token_id -> BigInt,
        word -> Text,
    }
    bookings (id) {
        id -> BigInt,
        kind -> Text,
        summary -> Text,
        on_date -> Date,
        booked_at -> Timestamp,
        undoes -> Nullable<BigInt>,
        detail -> Text,
        person_id -> BigInt,
        request_id -> Text,
    }
    booking_subjects (subject, subject_id, booking_id) {
        booking_id -> BigInt,
        subject -> Text,
        subject_id -> BigInt,
    }
    movements (sequence) {
        sequence -> BigInt,
        booking_id -> BigInt,
        from_kind -> Text,
        from_id -> BigInt,
        to_kind -> Text,
        to_id -> BigInt,
        quantity_out -> BigInt,
        quantity_in -> BigInt,
        value -> BigInt,
    }
    requests (id) {
        id -> Text,
        act -> Text,
        caller -> Text,
        content -> Text,
        answer -> Text,
        answered_at -> Timestamp,
        erased_at -> Nullable<Timestamp>,
        refused -> Bool,
    }
    materials (id) {
        id -> BigInt,
        kind -> Text,
        name -> Text,
        name_search -> Text,
        sheet -> Text,
        counted -> Bool,
        least -> Nullable<BigInt>,
    }
    month_totals (whole_year, month, kind, unit, from_kind, to_kind) {
        whole_year -> Bool,
        month -> Date,
        kind -> Text,
        unit -> Text,
        from_kind -> Text,
        to_kind -> Text,
        quantity_out -> BigInt,
        quantity_in -> BigInt,
        value -> BigInt,
    }
    month_stock (material_id, whole_year, month) {
        material_id -> BigInt,
        whole_year -> Bool,
        month -> Date,
        quantity -> BigInt,
    }
    purchases (id) {
        id -> BigInt,
        booking_id -> BigInt,
        undone_by -> Nullable<BigInt>,
        supplier_id -> Nullable<BigInt>,
        on_date -> Date,
        invoice -> Nullable<Text>,
        currency -> Text,
        rate -> Nullable<Text>,
        invoice_minor -> BigInt,
        home_value -> BigInt,
        remarks -> Text,
        note -> Nullable<Text>,
        opening -> Bool,
        file_sha256 -> Nullable<Text>,
    }
    lots (id) {
        id -> BigInt,
        material_id -> BigInt,
        purchase_id -> BigInt,
        owner_id -> Nullable<BigInt>,
        received -> Date,
        dye_lot -> Nullable<Text>,
        paid -> Nullable<Text>,
        sheet -> Text,
        colour -> Text,
        colour_search -> Text,
        mass_mg_m2 -> Nullable<BigInt>,
        next_piece -> BigInt,
        landed -> BigInt,
        unpriced -> Bool,
        replacement_value -> Nullable<BigInt>,
        replacement_per -> Nullable<BigInt>,
        value_estimated -> Bool,
    }
    lot_fibres (lot_id, fibre) {
        lot_id -> BigInt,
        fibre -> Text,
    }
    purchase_lines (purchase_id, position) {
        purchase_id -> BigInt,
        position -> BigInt,
        lot_id -> BigInt,
        price_minor -> BigInt,
        amount_minor -> BigInt,
        landed -> BigInt,
        quantity -> BigInt,
        length_um -> Nullable<BigInt>,
        mass_mg -> Nullable<BigInt>,
    }
    purchase_charges (purchase_id, position, booking_id) {
        purchase_id -> BigInt,
        position -> BigInt,
        booking_id -> BigInt,
        undone_by -> Nullable<BigInt>,
        kind -> Text,
        amount_minor -> BigInt,
        currency -> Text,
        share -> Text,
        late -> Bool,
        shares -> Text,
        reclaimed -> Bool,
        reclaim_by -> Nullable<Text>,
        reclaim_from -> Nullable<Date>,
    }
    pieces (id) {
        id -> BigInt,
        lot_id -> BigInt,
        number -> BigInt,
        quantity -> BigInt,
        full_width_um -> Nullable<BigInt>,
        selvedges_um -> Nullable<BigInt>,
        value -> BigInt,
        held -> BigInt,
        longest_free -> BigInt,
        preparation -> Nullable<Text>,
        offcut -> Bool,
        place -> Nullable<Text>,
        received -> Date,
        prepared -> Nullable<Date>,
        last_on -> Date,
        mass_factor_ppm -> BigInt,
        tare_mg -> Nullable<BigInt>,
        estimated -> Bool,
    }
    stretches (piece_id, position) {
        piece_id -> BigInt,
        position -> BigInt,
        start_um -> BigInt,
        length -> BigInt,
        held -> BigInt,
    }
    flaws (piece_id, position) {
        piece_id -> BigInt,
        position -> BigInt,
        at_um -> BigInt,
        length_um -> BigInt,
        note -> Text,
    }
    layers (id) {
        id -> BigInt,
        material_id -> BigInt,
        lot_id -> Nullable<BigInt>,
        quantity -> BigInt,
        value -> BigInt,
    }
    pool_shares (lot_id) {
        lot_id -> BigInt,
        layer_id -> BigInt,
        share -> BigInt,
    }
    pool_takings (booking_id, lot_id) {
        booking_id -> BigInt,
        undone_by -> Nullable<BigInt>,
        lot_id -> BigInt,
        to_kind -> Text,
        to_id -> BigInt,
        share -> BigInt,
    }
    traces (booking_id, facet, subject_id, part) {
        booking_id -> BigInt,
        facet -> Text,
        subject_id -> BigInt,
        part -> Text,
        was -> Nullable<Text>,
    }
    wash_tests (id) {
        id -> BigInt,
        lot_id -> BigInt,
        number -> BigInt,
        booking_id -> BigInt,
        undone_by -> Nullable<BigInt>,
        on_date -> Date,
        test -> Text,
        note -> Nullable<Text>,
    }
    garments (id) {
        id -> BigInt,
        name -> Text,
        customer_id -> Nullable<BigInt>,
        count -> BigInt,
        good -> Nullable<BigInt>,
        spoiled -> Nullable<BigInt>,
        spoilage -> Nullable<Text>,
        salvage -> BigInt,
        due -> Nullable<Date>,
        state -> Text,
        note -> Nullable<Text>,
        name_search -> Text,
    }
    needs (id) {
        id -> BigInt,
        garment_id -> BigInt,
        role -> Text,
        kind -> Text,
        need -> Text,
        units -> BigInt,
        estimate -> Nullable<BigInt>,
        dropped -> Bool,
        detail -> Nullable<Text>,
        detail_search -> Nullable<Text>,
        same_lot_as -> Nullable<BigInt>,
    }
    planned_costs (booking_id, position) {
        booking_id -> BigInt,
        undone_by -> Nullable<BigInt>,
        position -> BigInt,
        need_id -> BigInt,
        lot_id -> Nullable<BigInt>,
        quantity -> Nullable<BigInt>,
        value -> Nullable<BigInt>,
    }
    operations (garment_id, name) {
        garment_id -> BigInt,
        name -> Text,
        position -> BigInt,
        kind -> Text,
        minutes -> BigInt,
        person_id -> BigInt,
        billable -> Bool,
        detail -> Nullable<Text>,
        detail_search -> Nullable<Text>,
    }
    seams (garment_id, name) {
        garment_id -> BigInt,
        name -> Text,
        position -> BigInt,
        stitch -> Text,
        count -> BigInt,
        length_um -> Nullable<BigInt>,
        needle -> Text,
        under -> Text,
        seam -> Text,
        detail -> Nullable<Text>,
    }
    seam_allowances (garment_id) {
        garment_id -> BigInt,
        ends_um -> BigInt,
        waste_ppm -> BigInt,
    }
    quotations (id) {
        id -> BigInt,
        garment_id -> BigInt,
        customer_id -> Nullable<BigInt>,
        state -> Text,
        version -> BigInt,
        accepted -> Nullable<BigInt>,
        accepted_in -> Nullable<BigInt>,
        keep -> Nullable<Text>,
        accepted_option -> Nullable<Text>,
        supplement_to -> Nullable<BigInt>,
        agreed_minor -> Nullable<BigInt>,
    }
    reservations (id) {
        id -> BigInt,
        need_id -> BigInt,
        piece_id -> BigInt,
        state -> Text,
        held -> BigInt,
        stretch -> BigInt,
        asked -> Text,
        promised -> Date,
        until -> Nullable<Date>,
        booking_id -> BigInt,
        ended_by -> Nullable<BigInt>,
        ended_because -> Nullable<Text>,
        quotation_id -> Nullable<BigInt>,
        first_id -> Nullable<BigInt>,
        lengths -> BigInt,
        share -> Nullable<BigInt>,
        lay_id -> Nullable<BigInt>,
    }
    cuts (booking_id) {
        booking_id -> BigInt,
        undone_by -> Nullable<BigInt>,
        need_id -> BigInt,
        piece_id -> BigInt,
        reason -> Text,
        quantity -> BigInt,
        wasted -> BigInt,
        panel_width_um -> Nullable<BigInt>,
        strip_id -> Nullable<BigInt>,
        outer_id -> Nullable<BigInt>,
        reservation_id -> Nullable<BigInt>,
        drawn -> BigInt,
        fills -> BigInt,
        width_um -> Nullable<BigInt>,
        lay_id -> Nullable<BigInt>,
    }
    lays (id) {
        id -> BigInt,
        need_id -> BigInt,
        booking_id -> BigInt,
        undone_by -> Nullable<BigInt>,
        laid -> Text,
        note -> Nullable<Text>,
    }
    lay_rungs (lay_id, usable_um) {
        lay_id -> BigInt,
        usable_um -> BigInt,
        length_um -> BigInt,
        placements -> Text,
    }
    work_entries (id) {
        id -> BigInt,
        booking_id -> BigInt,
        undone_by -> Nullable<BigInt>,
        garment_id -> BigInt,
        operation -> Text,
        operation_search -> Text,
        kind -> Text,
        minutes -> BigInt,
        person_id -> BigInt,
        billable -> Bool,
        reason -> Text,
        on_date -> Date,
        detail -> Nullable<Text>,
        detail_search -> Nullable<Text>,
    }
    work_reversals (id) {
        id -> BigInt,
        work_id -> BigInt,
        on_date -> Date,
        sign -> BigInt,
        cancelled -> Bool,
    }
    detail_ratings (garment_id, name_search) {
        garment_id -> BigInt,
        name_search -> Text,
        name -> Text,
        rating -> BigInt,
        booking_id -> BigInt,
    }
    quotation_versions (quotation_id, version) {
        quotation_id -> BigInt,
        version -> BigInt,
        on_date -> Date,
        valid_until -> Date,
        currency -> Text,
        gross_minor -> BigInt,
        is_offer -> Bool,
        asked -> Text,
        frozen -> Text,
        booking_id -> BigInt,
        undone_by -> Nullable<BigInt>,
        made_by -> Text,
        made_at -> Timestamp,
    }
    payments (booking_id) {
        booking_id -> BigInt,
        undone_by -> Nullable<BigInt>,
        quotation_id -> BigInt,
        minor -> BigInt,
        on_date -> Date,
        note -> Nullable<Text>,
        cash -> Bool,
        rounding_minor -> BigInt,
    }
    sales (booking_id) {
        booking_id -> BigInt,
        undone_by -> Nullable<BigInt>,
        customer_id -> Nullable<BigInt>,
        tax_name -> Nullable<Text>,
        tax_ppm -> BigInt,
        net_minor -> BigInt,
        tax_minor -> BigInt,
        gross_minor -> BigInt,
        cost_minor -> Nullable<BigInt>,
    }
    workshops (id) {
        id -> BigInt,
        currency -> Text,
        currency_fixed -> Bool,
        zone -> Text,
        units -> Text,
        date_order -> Nullable<Text>,
        cutting_step_um -> BigInt,
        end_allowance_um -> BigInt,
        offcut_length_um -> BigInt,
        offcut_width_um -> BigInt,
        strip_value -> Text,
        pooled_method -> Text,
        pooled_method_fixed -> Bool,
        closed_to -> Nullable<Date>,
        version -> BigInt,
        changed_by -> Nullable<Text>,
        changed_at -> Nullable<Timestamp>,
        changed_what -> Nullable<Text>,
        prices_shown -> Text,
        tax_rounding -> Text,
        tax_place -> Text,
        cash_step_minor -> Nullable<BigInt>,
        head -> Text,
        price_rule -> Nullable<Text>,
        words -> Text,
    }
}

diesel::joinable!(lots -> materials (material_id));
diesel::joinable!(layers -> materials (material_id));
diesel::joinable!(pieces -> lots (lot_id));
diesel::joinable!(needs -> garments (garment_id));
diesel::joinable!(work_entries -> garments (garment_id));
diesel::joinable!(tokens -> people (person_id));
diesel::joinable!(planned_costs -> needs (need_id));
diesel::joinable!(work_reversals -> work_entries (work_id));
diesel::joinable!(purchase_lines -> purchases (purchase_id));
diesel::joinable!(lay_rungs -> lays (lay_id));
diesel::joinable!(reservations -> needs (need_id));
diesel::joinable!(reservations -> pieces (piece_id));
diesel::joinable!(cuts -> needs (need_id));
diesel::joinable!(cuts -> pieces (piece_id));
diesel::joinable!(movements -> bookings (booking_id));
diesel::joinable!(booking_subjects -> bookings (booking_id));
diesel::joinable!(month_stock -> materials (material_id));
diesel::joinable!(payments -> quotations (quotation_id));

diesel::allow_tables_to_appear_in_same_query!(
    booking_subjects,
    bookings,
    customers,
    cuts,
    former_names,
    former_supplier_names,
    garments,
    lot_fibres,
    layers,
    lay_rungs,
    lays,
    lots,
    materials,
    month_stock,
    movements,
    needs,
    operations,
    payments,
    people,
    pieces,
    planned_costs,
    purchase_lines,
    purchases,
    quotation_versions,
    quotations,
    reservations,
    sales,
    suppliers,
    tokens,
    traces,
    work_entries,
    workshops,
    work_reversals,
);
