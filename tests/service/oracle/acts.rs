//! What a workshop books, in the order in which it is booked.

/// An act's place in the history.
pub type ActId = usize;

/// What was bought on one line: the purchase's act and the line's number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct LotId(pub ActId, pub usize);

/// A piece on the shelf: the act that brought it and a number within that act.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct PieceId(pub ActId, pub usize);

/// A garment, by the act that planned it.
pub type Garment = ActId;

/// How the value of a material is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Value on the piece itself; quantities are micrometres.
    Cloth,
    /// Value in the layers of the material; quantities are counts or micrometres.
    Pooled,
}

/// How the layers of pooled stock are used up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Method {
    /// One layer a lot, the oldest first.
    Fifo,
    /// One pool a material.
    Average,
}

/// Where value lies. The order is that in which equal remainders are served.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// A piece of cloth.
    Piece(PieceId),
    /// A lot's layer of pooled stock.
    Layer(LotId),
    /// A material's pool.
    Pool(usize),
    /// A garment that is neither finished nor cancelled.
    Garment(Garment),
}

/// What a charge is shared by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Key {
    /// By what each line cost.
    Value,
    /// By how much each line holds.
    Quantity,
}

/// One line of a purchase.
#[derive(Clone, Debug)]
pub struct Line {
    /// Which material, by a number of its own.
    pub material: usize,
    /// How its value is kept.
    pub kind: Kind,
    /// Micrometres or a count.
    pub quantity: i128,
    /// The line's price in minor units.
    pub price: i128,
}

/// What becomes of a cancelled garment's material.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leftover {
    /// Back on the shelf at what it cost.
    Shelf,
    /// Into another garment.
    Into(Garment),
    /// A loss.
    Loss,
}

/// Where goods go that leave the shelf for no garment.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Gone {
    /// Given away.
    Given,
    /// Taken for own use.
    OwnUse,
    /// Sold as they are.
    Sold,
    /// Discarded: a loss.
    Discarded,
}

/// One act.
#[derive(Clone, Debug)]
pub enum Act {
    /// A purchase and at most one charge on it, in minor units.
    Buy {
        lines: Vec<Line>,
        charge: Option<(Key, i128)>,
    },
    /// A later charge, or a credit (negative), on a purchase.
    Charge {
        purchase: ActId,
        key: Key,
        amount: i128,
    },
    /// Plans a garment of so many.
    Plan { count: i128 },
    /// Takes material from a piece for a garment, or for a mistake made at it.
    Cut {
        garment: Garment,
        piece: PieceId,
        quantity: i128,
        mistake: bool,
    },
    /// Goods leave the shelf for no garment.
    Leave {
        piece: PieceId,
        quantity: i128,
        to: Gone,
    },
    /// Promises a length of a piece.
    Reserve {
        garment: Garment,
        piece: PieceId,
        length: i128,
    },
    /// Gives a promise back.
    Release { reservation: ActId },
    /// The cloth was washed and is so long now.
    Wash { piece: PieceId, length: i128 },
    /// Pooled stock was counted or measured anew.
    Measure { piece: PieceId, quantity: i128 },
    /// A person, own or paid.
    Person { paid: bool },
    /// A person's pay per hour in ten-thousandths, from a day or from the beginning.
    Pay {
        person: ActId,
        per_hour: i128,
        from: Option<i32>,
    },
    /// Overhead per billable hour as a ratio of minor units to hours, from a day or from the beginning.
    Overhead {
        cost: i128,
        hours: i128,
        from: Option<i32>,
    },
    /// Minutes of a person on a garment.
    Work {
        garment: Garment,
        person: ActId,
        minutes: i128,
        day: i32,
        billable: bool,
    },
    /// So many good ones, so many spoiled by an own mistake.
    Finish {
        garment: Garment,
        good: i128,
        spoiled: i128,
    },
    /// The good ones leave.
    Deliver { garment: Garment },
    /// The garment is given up.
    Cancel {
        garment: Garment,
        leftover: Leftover,
    },
}

/// Why an act cannot be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// It names what is not there (any more).
    Unknown,
    /// More is asked than there is, or than is free.
    TooMuch,
    /// A quantity or price of zero or less where there must be one.
    Nothing,
    /// The garment is past that.
    Settled,
    /// A balance would fall below zero.
    Negative,
}
