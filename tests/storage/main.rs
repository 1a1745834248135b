//! The book on disk: one list of cases, run on SQLite and on PostgreSQL, and what only one of them has.
//!
//! PostgreSQL's half needs `TEST_DATABASE_URL` (`postgres://ellwand@127.0.0.1:5432/ellwand_tests`); each case makes a
//! schema of its own there and drops it. Without the variable those cases are ignored.
#![expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]

mod audit;
mod bookings;
mod counters;
mod cuts;
mod database;
mod details;
mod draft;
mod garments;
mod grouping;
mod lays;
mod locks;
mod lots;
mod migrations;
mod mounts;
mod opening;
mod overhead;
#[cfg(feature = "postgresql")]
#[path = "../support/own_schema.rs"]
mod own_schema;
mod pages;
mod people;
mod pieces;
mod purchases;
mod quotations;
mod reservations;
mod rules;
mod sample;
mod schema;
#[cfg(feature = "postgresql")]
mod server;
mod shelf;
mod tokens;
mod workshop;
mod writing;

/// Expands the list once per dialect.
macro_rules! cases {
    ($($module:ident { $($case:ident)* })*) => {
        mod sqlite {
            $(mod $module {
                $(#[test]
                fn $case() {
                    crate::$module::$case(&crate::database::TestDatabase::sqlite());
                })*
            })*
        }

        #[cfg(feature = "postgresql")]
        mod postgresql {
            $(mod $module {
                $(#[needs::variable(TEST_DATABASE_URL)]
                #[test]
                fn $case() {
                    crate::$module::$case(&crate::database::TestDatabase::postgresql());
                })*
            })*
        }
    };
}

// A case that is missing here is dead code, which the lints refuse.
cases! {
    workshop {
        the_settings_are_one_row
        a_person_has_one_pay_rate_a_day
        a_person_has_one_pay_rate_a_kind_and_day
        reclaiming_tax_counts_from_its_day
        an_overhead_rate_counts_from_its_day
        a_years_figures_count_from_their_day
        tax_rates_keep_their_order_and_their_names
        usual_operations_are_found_whatever_their_capitals
        suppliers_are_listed_by_name
        customers_are_listed_by_name
        names_that_a_customer_had_are_remembered
        every_word_of_the_settings_is_stored
    }
    counters {
        numbers_of_a_kind_start_at_one
        many_threads_get_every_number_once
        pieces_of_a_lot_are_numbered_without_gaps
    }
    overhead {
        what_was_spent_is_kept_once_a_period
        the_work_of_a_period_is_that_of_its_days
    }
    bookings {
        a_booking_is_read_as_written
        movements_are_read_in_the_order_of_the_ledger
        every_place_and_every_act_is_stored
        a_request_is_kept_with_its_answer
        records_of_requests_are_emptied_once
        the_last_booking_skips_what_was_taken_back
        what_took_a_booking_back_is_found
        movements_of_a_place_come_with_their_days
        bookings_after_a_number_come_with_what_they_touched
        no_booking_appears_before_those_numbered_before_it
    }
    pages {
        bookings_are_paged_newest_first
        bookings_of_a_subject_are_paged
        purchases_are_paged_newest_first
        garments_are_paged_by_state
    }
    purchases {
        a_purchase_is_read_as_written
        lines_and_charges_come_in_order
        only_a_tax_is_reclaimed_and_says_why
        charges_that_were_taken_back_do_not_stand
    }
    lots {
        materials_are_found_by_kind_and_name
        a_lot_is_read_as_written
        wash_tests_come_newest_first
        layers_come_in_the_order_of_their_receipt
    }
    pieces {
        a_piece_is_read_as_written
        flaws_stretches_and_promises_are_read_as_one_piece
        promises_know_whether_a_quotation_was_accepted
        stretches_follow_when_flaws_come_and_go
        pieces_are_listed_by_lot_number_and_kind
        pieces_are_found_by_what_is_free
        many_pieces_are_read_at_once
        trims_and_thread_have_no_width
    }
    shelf {
        each_filter_keeps_what_it_names
        filters_apply_together
        wildcards_are_taken_literally
        capitals_do_not_matter
        pages_have_no_gaps_and_no_repeats
        a_row_says_what_the_lot_is
        what_was_there_on_a_day_is_found
    }
    garments {
        a_garment_is_read_as_written
        needs_keep_the_order_of_the_plan
        operations_keep_the_order_of_the_plan
        seams_keep_the_order_of_the_plan
        seams_and_their_allowance_keep_to_their_rules
        minutes_that_were_taken_back_do_not_stand
        past_minutes_are_those_of_garments_that_were_finished
        past_minutes_of_a_name_are_the_newest
    }
    details {
        details_are_found_on_garments_that_were_made
        a_detail_has_one_rating_from_one_to_five
        what_is_tried_out_aside_leaves_nothing
    }
    lays {
        a_lay_is_read_as_written
        lays_keep_to_their_rules
        what_was_made_by_a_lay_is_found
    }
    quotations {
        a_quotation_is_read_as_written
        a_version_is_never_changed
        a_garment_is_sold_by_one_quotation_and_its_supplements
        quotations_are_paged_by_state_and_garment
        one_supplement_of_a_quotation_is_open_at_a_time
        payments_that_were_taken_back_do_not_stand
        bought_lots_of_a_material_are_the_newest_first
    }
    reservations {
        a_promise_is_read_as_written
        promises_are_found_by_garment_piece_and_booking
        promises_are_found_by_their_quotation
        overdue_promises_are_those_whose_last_day_has_passed
    }
    cuts {
        a_cut_is_read_as_written
        cuts_are_found_by_garment_need_and_lot
        cuts_keep_to_their_rules
    }
    people {
        a_person_is_found_by_name_and_by_what_looks_like_it
        a_name_is_of_one_person_for_good
        every_booking_has_its_person
    }
    tokens {
        a_token_is_read_as_written
        a_token_is_taken_back_once
        a_hash_opens_one_token_and_has_its_length
        the_last_day_of_use_is_kept
    }
    audit {
        what_is_kept_is_set_against_the_ledger
        batches_go_on_after_the_last_row
        a_purchase_is_set_against_its_lines_lots_and_movements
        stretches_are_set_against_their_promises
        garments_below_nothing_are_found
        movements_of_nothing_are_found
        bookings_and_movements_are_counted
        what_is_neither_outside_nor_on_the_shelf_is_summed
    }
    rules {
        a_promise_is_of_lengths_or_of_a_share
        the_ledger_is_never_changed
        a_taking_holds_what_it_rests_on
        quantities_and_values_stay_within_their_limits
        promises_stay_within_their_cloth
        a_promise_ends_exactly_once
        a_booking_is_taken_back_once
        names_and_codes_are_given_once
        words_stay_within_their_lists
        a_width_comes_with_its_selvedges
        what_a_booking_wrote_is_taken_back_later
        rows_name_what_there_is
        bookings_may_be_named_before_they_are_written
        a_change_of_nothing_is_refused
        nothing_is_booked_into_closed_books
        what_is_not_known_of_a_price_is_one_thing
    }
    migrations {
        down_and_up_again_leaves_the_same_schema
        a_migration_that_was_cut_short_is_taken_up
        two_openers_migrate_one_after_the_other
    }
    schema {
        every_table_and_column_is_declared
        every_identifier_refers_to_its_row
        every_table_is_copied
    }
    writing {
        a_job_that_fails_leaves_nothing_behind
        a_job_that_panics_leaves_nothing_behind
        a_hidden_error_is_not_taken_for_kept
        a_reader_sees_one_snapshot
        a_reader_cannot_write
        two_handles_write_in_turn
        two_handles_fight_over_one_counter
        one_request_is_kept_once
        a_busy_book_is_given_up_at_the_deadline
        a_pool_in_use_is_busy
    }
    opening {
        a_newer_schema_is_refused
        an_older_schema_is_brought_up_only_when_asked
        the_schema_of_another_program_is_refused
    }
}
