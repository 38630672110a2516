//! What a column of a measurement sheet can be.

macro_rules! roles {
    ($($(#[doc = $doc:literal])+ $name:ident = $word:literal;)+) => {
        /// What a column is.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Role {
            $($(#[doc = $doc])+ $name,)+
        }

        impl Role {
            /// Every role.
            pub const ALL: &[Self] = &[$(Self::$name,)+];

            /// Its word in profiles, answers and reports.
            pub fn word(self) -> &'static str {
                match self { $(Self::$name => $word,)+ }
            }
        }
    };
}

roles! {
    /// What the faces of the row belong to.
    Structure = "structure";
    /// The name of a face.
    Face = "face";
    /// Whether the row is a face or an opening.
    Kind = "kind";
    /// The longer level size.
    Length = "length";
    /// The level size where it is called so.
    Width = "width";
    /// The upright size.
    Height = "height";
    /// Both sizes in one cell.
    Size = "size";
    /// How many equal ones.
    Count = "count";
    /// The area before openings are taken off.
    Area = "area";
    /// The area after openings are taken off.
    NetArea = "net_area";
    /// The area of openings, or their sizes.
    Deduction = "deduction";
    /// Both sizes of an opening in one cell.
    OpeningSize = "opening_size";
    /// The width of an opening.
    OpeningWidth = "opening_width";
    /// The height of an opening.
    OpeningHeight = "opening_height";
    /// How many openings.
    OpeningCount = "opening_count";
    /// The depth of reveals.
    Reveal = "reveal";
    /// The finish.
    Finish = "finish";
    /// What the face is built of.
    Substrate = "substrate";
    /// The unit of the row's figures.
    Unit = "unit";
    /// Words for people.
    Note = "note";
    /// Rows counted through.
    Number = "number";
    /// Nothing that belongs to a plan.
    Ignore = "ignore";
}

/// What the cells of a column hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Holds {
    Figures,
    Words,
    Either,
}

impl Role {
    /// The role of a word.
    pub fn of(word: &str) -> Option<Self> {
        let word = word.trim().to_lowercase().replace([' ', '-'], "_");
        Self::ALL.iter().copied().find(|role| role.word() == word)
    }

    pub(super) fn holds(self) -> Holds {
        match self {
            Self::Structure | Self::Face | Self::Number | Self::Note | Self::Ignore => {
                Holds::Either
            }
            Self::Kind | Self::Finish | Self::Substrate | Self::Unit => Holds::Words,
            _ => Holds::Figures,
        }
    }

    /// Whether its cells are sizes, areas or counts, so that a table of measurements has some.
    pub fn is_measure(self) -> bool {
        self.holds() == Holds::Figures
    }

    /// Whether several columns of a table may have it.
    pub fn may_repeat(self) -> bool {
        matches!(
            self,
            Self::Structure | Self::Face | Self::Note | Self::Ignore | Self::Number
        )
    }

    /// What it is of an opening, where a header over it says `Opening`.
    pub(super) fn of_opening(self) -> Option<Self> {
        match self {
            Self::Length | Self::Width => Some(Self::OpeningWidth),
            Self::Height => Some(Self::OpeningHeight),
            Self::Size => Some(Self::OpeningSize),
            Self::Count => Some(Self::OpeningCount),
            Self::Area => Some(Self::Deduction),
            _ => None,
        }
    }
}
