//! Words of the shelf.

use super::words;

words!(
    /// What a material is.
    Kind, "a kind of material", {
        /// Cloth, cut from pieces.
        Cloth = "cloth",
        /// Lining, cut from pieces like cloth; cloth does not serve in its place, nor the other way round.
        Lining = "lining",
        /// Interlining, cut from pieces.
        Interlining = "interlining",
        /// Sewing thread, by length.
        Thread = "thread",
        /// Buttons, zips, tape: by count or by length.
        Trim = "trim",
    }
);

impl Kind {
    /// True for kinds whose value sits on the piece; the others are pooled in cost layers.
    #[must_use]
    pub const fn is_rectangle(self) -> bool {
        matches!(self, Self::Cloth | Self::Lining | Self::Interlining)
    }
}

words!(
    /// How a trim is kept.
    TrimUnit, "a unit of a trim", {
        /// Counted.
        Count = "count",
        /// Measured.
        Length = "length",
    }
);
words!(
    /// What a kept side strip or offcut is worth.
    OffcutValue, "a value of offcuts", {
        /// Its share of the piece's value by area.
        Area = "area",
        /// Nothing: all cost rides on the garment.
        Zero = "zero",
    }
);
words!(
    /// How thread and trims are valued. Taking the newest first is refused (IAS 2 paras 23–27).
    PooledMethod, "a way to value thread and trims", {
        /// First in, first out: one layer per lot.
        Fifo = "fifo",
        /// Moving average: one pool per material.
        Average = "average",
    }
);
words!(
    /// End of a piece: the outer one lies outside on the roll.
    #[derive(Default)]
    End, "an end of a piece", {
        /// The outer end; positions run from it.
        #[default]
        Outer = "outer",
        /// The inner end.
        Inner = "inner",
    }
);
words!(
    /// After what a piece was measured.
    #[derive(Default)]
    MeasuredAfter, "an occasion to measure", {
        /// On arrival, or to correct an earlier figure.
        #[default]
        Arrival = "arrival",
        /// After washing.
        Washing = "washing",
        /// After pressing.
        Pressing = "pressing",
        /// After resting off the roll.
        Resting = "resting",
        /// At a count of the shelf.
        Counting = "counting",
    }
);
words!(
    /// How a stiffness was found: which test or formula is behind the figure.
    StiffnessMethod, "a way to find a stiffness", {
        /// Overhangs of strips on a 41.5° cantilever; the bending length is half of it.
        HalfOverhang = "half-overhang",
        /// A bending length.
        BendingLength = "bending-length",
        /// A rigidity as printed by a FAST or BS tester, w·g0·c³.
        Rigidity = "rigidity",
        /// A rigidity as ISO 9073-7 prints it.
        Iso9073 = "iso-9073-7",
        /// A rigidity as ASTM D1388 prints it, with its SI constant.
        AstmD1388 = "astm-d1388",
        /// A rigidity of a pure bending tester (KES).
        Kes = "kes",
    }
);
words!(
    /// How a rigidity in a direction is known.
    StiffnessWay, "a way to know a stiffness", {
        /// One of the directions that were tested.
        Tested = "tested",
        /// Peirce's rule between lengthwise and crosswise.
        Peirce = "peirce",
        /// Peirce's form between neighbouring tested directions, a bias strip among them (ours; three directions are
        /// enough for most purposes: Cooper 1960, abstract).
        Between = "between",
    }
);

impl TrimUnit {
    /// The unit of what is counted, or is not.
    #[must_use]
    pub const fn of(counted: bool) -> Self {
        match counted {
            true => Self::Count,
            false => Self::Length,
        }
    }
}
