//! What a reserve and a release ask of the database at the least, in SQL that both databases take. `:name` stands for a
//! value; a number that is returned gets the name it is returned as, for the statements after it.

/// The statements of an act, in order; one transaction.
pub struct Statements {
    /// `:kind` of its booking.
    pub kind: &'static str,
    /// `:held` of the piece after it.
    pub held: i64,
    pub texts: &'static [&'static [&'static str]],
}

/// Values that are texts of this length: what a row of JSON weighs in the real tables. Besides them there are `:need`
/// (its garment has the same number) and `:request`, an id that was never used.
pub const FILLERS: [(&str, usize); 4] = [
    (":detail", 60),
    (":content", 150),
    (":asked", 350),
    (":answer", 700),
];

/// Seek the request, read settings, garment, need, piece, lot, material, tests and promises; count up, write the promise,
/// the piece and the booking.
pub const RESERVE: Statements = Statements {
    kind: "reserved",
    held: 2_800_000,
    texts: &[
        GARMENT,
        &["SELECT * FROM pieces WHERE lot_id = 1 AND number = 1"],
        CLOTH,
        &[
            "SELECT * FROM wash_tests WHERE lot_id = 1 ORDER BY number DESC",
            COUNT_BOOKINGS,
            "UPDATE counters SET next_number = next_number + 1 WHERE kind = 'reservation' RETURNING next_number - 1 AS reservation",
            "INSERT INTO reservations (id, need_id, piece_id, state, lengths, held, stretch, asked, promised, until, booking_id, ended_by, ended_because) \
             VALUES (:reservation, :need, 1, 'active', 1, :held, 0, :asked, '2026-10-12', NULL, :booking, NULL, NULL)",
        ],
        WRITE,
    ],
};

/// The same for a promise that is given back.
pub const RELEASE: Statements = Statements {
    kind: "released",
    held: 0,
    texts: &[
        GARMENT,
        &["SELECT * FROM pieces WHERE id = 1"],
        CLOTH,
        &[
            COUNT_BOOKINGS,
            "UPDATE reservations SET state = 'released', held = 0, ended_by = :booking WHERE need_id = :need AND state = 'active'",
        ],
        WRITE,
    ],
};

const GARMENT: &[&str] = &[
    "SELECT * FROM requests WHERE id = :request",
    "SELECT * FROM workshops WHERE id = 1",
    "SELECT * FROM garments WHERE id = :need",
    "SELECT * FROM needs WHERE garment_id = :need ORDER BY id",
    "SELECT r.* FROM reservations r JOIN needs n ON n.id = r.need_id WHERE n.garment_id = :need ORDER BY r.id",
];

const CLOTH: &[&str] = &[
    "SELECT * FROM flaws WHERE piece_id = 1",
    "SELECT * FROM lots WHERE id = 1",
    "SELECT * FROM materials WHERE id = 1",
];

const COUNT_BOOKINGS: &str = "UPDATE counters SET next_number = next_number + 1 WHERE kind = 'booking' RETURNING next_number - 1 AS booking";

const WRITE: &[&str] = &[
    "UPDATE pieces SET held = :held, longest_free = quantity - :held WHERE id = 1",
    "SELECT * FROM stretches WHERE piece_id = 1 ORDER BY position",
    "UPDATE stretches SET held = :held WHERE piece_id = 1 AND position = 0",
    "INSERT INTO requests (id, act, caller, content, answer, answered_at, refused) \
     VALUES (:request, 'reserve', 'bare', :content, :answer, '2026-10-12 09:00:00', FALSE)",
    "INSERT INTO bookings (id, kind, summary, on_date, booked_at, undoes, detail, person_id, request_id) \
     VALUES (:booking, :kind, 'Reserved 2.80 m of L1.1 for the shell of G1 dress.', '2026-10-12', '2026-10-12 09:00:00', NULL, :detail, 1, :request)",
    "INSERT INTO booking_subjects (booking_id, subject, subject_id) VALUES (:booking, 'garment', 1)",
    "INSERT INTO booking_subjects (booking_id, subject, subject_id) VALUES (:booking, 'lot', 1)",
];
