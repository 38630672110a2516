//! What a column of a measurement sheet or of a price list can be.

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
    /// The item of a price list, as the rule pack names it.
    Item = "item";
    /// What an item is, in words.
    Description = "description";
    /// How much a pack holds.
    Pack = "pack";
    /// The unit of that.
    PackUnit = "pack_unit";
    /// What a pack is called.
    PackName = "pack_name";
    /// The price of a pack.
    Price = "price";
    /// The currency of the row's price.
    Currency = "currency";
    /// Who sells it.
    Supplier = "supplier";
    /// The first day of the price.
    ValidFrom = "valid_from";
    /// The last day of the price.
    ValidUntil = "valid_until";
    /// From how many packs on the price holds.
    FromPacks = "from_packs";
    /// Days from order to delivery.
    LeadDays = "lead_days";
    /// What a delivery costs.
    Freight = "freight";
    /// Whether a tax on materials is reckoned on it.
    Taxed = "taxed";
    /// Words for people.
    Note = "note";
    /// Rows counted through.
    Number = "number";
    /// Nothing that belongs to a plan.
    Ignore = "ignore";
}

/// What a sheet is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Subject {
    /// Measured faces.
    Faces,
    /// Prices of items.
    Prices,
}

impl Subject {
    /// What its columns can be.
    pub fn roles(self) -> Vec<Role> {
        let all = Role::ALL.iter().copied();
        all.filter(|role| match self {
            _ if role.is_of_any() => true,
            Self::Faces => !Role::OF_BOOKS.contains(role),
            Self::Prices => Role::OF_BOOKS.contains(role),
        })
        .collect()
    }
}

/// What the cells of a column hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Holds {
    Figures,
    Words,
    Either,
}

impl Role {
    /// Those of a price list, in the order of the columns of a price book.
    pub const OF_BOOKS: [Self; 14] = [
        Self::Item,
        Self::Description,
        Self::Pack,
        Self::PackUnit,
        Self::PackName,
        Self::Price,
        Self::Currency,
        Self::Supplier,
        Self::ValidFrom,
        Self::ValidUntil,
        Self::FromPacks,
        Self::LeadDays,
        Self::Freight,
        Self::Taxed,
    ];

    /// Whether sheets of either subject can have it.
    fn is_of_any(self) -> bool {
        matches!(self, Self::Note | Self::Number | Self::Ignore)
    }

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
            Self::Item | Self::Description | Self::Supplier => Holds::Either,
            Self::Pack | Self::PackUnit | Self::ValidFrom | Self::ValidUntil => Holds::Either,
            Self::Kind | Self::Finish | Self::Substrate | Self::Unit => Holds::Words,
            Self::PackName | Self::Currency | Self::Taxed => Holds::Words,
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
