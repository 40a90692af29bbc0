//! The words a key may be set to. Knows how each is spelt; must not know what it means.

/// Declares a choice of words as an enum that reads and prints itself.
macro_rules! words {
    ($( $(#[doc = $doc:literal])+ $name:ident { $( $(#[doc = $vdoc:literal])* $word:ident = $text:literal, )+ } )+) => { $(
        $(#[doc = $doc])+
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $( $(#[doc = $vdoc])* $word, )+ }

        impl $name {
            pub const ALL: &'static [$name] = &[$($name::$word,)+];
            /// As spelt in the project file.
            pub fn word(self) -> &'static str {
                match self { $($name::$word => $text,)+ }
            }
        }

        impl Default for $name {
            fn default() -> $name {
                $name::ALL[0]
            }
        }

        impl $crate::read::table::Value for $name {
            fn takes() -> String {
                let all: Vec<String> = [$($text,)+].iter().map(|w| format!("\"{w}\"")).collect();
                all.join(" or ")
            }
            fn read(
                value: &serde_spanned::Spanned<toml::de::DeValue<'_>>,
                key: &str,
                diags: &mut $crate::diag::Diagnostics,
            ) -> Option<$name> {
                let Some(text) = value.get_ref().as_str() else {
                    $crate::read::table::wrong_type::<$name>(value, key, diags);
                    return None;
                };
                let found = $name::ALL.iter().copied().find(|w| w.word() == text);
                if found.is_none() {
                    $crate::read::value::wrong_word(value, key, text, &[$($text,)+], diags);
                }
                found
            }
            fn write(&self, _: &$crate::read::table::Notes<'_>) -> String {
                format!("\"{}\"", self.word())
            }
            fn canon(&self) -> $crate::read::canon::Canon {
                $crate::read::canon::Canon::Fact(self.word().into())
            }
        }
    )+ };
}

words! {
    /// Paper for the drawings; text pages are always A4 upright.
    Sheets { A3 = "A3", A4 = "A4", }

    /// How issues are called, one after the other.
    Revisions { Letters = "letters", Numbered = "numbered", }

    /// Where the apex of the dashed swing triangle points in elevation: declared, never assumed.
    SwingApex { Hinge = "hinge", Handle = "handle", }

    /// Left or right, as seen facing the wall or the front.
    Side { Left = "left", Right = "right", }

    /// Which way a room door goes.
    Opens { In = "in", Out = "out", }

    /// Where an appliance's own door is hinged.
    OwnDoor { Left = "left", Right = "right", Down = "down", }

    /// What a service point is.
    ServiceKind {
        Socket = "socket", Switch = "switch", Light = "light", Water = "water", Waste = "waste",
        Gas = "gas", Radiator = "radiator", Vent = "vent", Data = "data", Other = "other",
    }

    /// What is done to the edges of a board.
    EdgeIs { Band = "band", Treated = "treated", }

    /// What every piece must pass on its way in.
    ObstacleKind { Door = "door", Corner = "corner", Stair = "stair", Lift = "lift", }

    /// What a unit stands on.
    Stands {
        /// Feet hidden by a plinth.
        Plinth = "plinth",
        /// Feet in view.
        Feet = "feet",
        /// Hung on the wall.
        Wall = "wall",
        /// On another unit.
        Unit = "unit",
    }

    /// Where a unit is put together.
    Built { Workshop = "workshop", Site = "site", }

    /// When an appliance goes into its unit.
    GoesIn { WithUnit = "with its unit", BeforeFronts = "before the fronts", Last = "last", }

    /// What a unit's shelves are to carry.
    Load {
        Light = "light", Clothes = "clothes", Crockery = "crockery", Books = "books",
        Machines = "machines",
    }

    /// What a front is.
    FrontKind {
        Door = "door", Drawer = "drawer", Flap = "flap",
        /// A panel that does not open.
        Fixed = "fixed",
        /// No front: the inside shows.
        Open = "open",
    }

    /// How a front lies on its carcass.
    Lay {
        /// Laps the carcass edges.
        Overlay = "overlay",
        /// Sits between them.
        Inset = "inset",
    }

    /// What a free panel is.
    PanelKind { Panelling = "panelling", Slats = "slats", BedFront = "bed front", }

    /// Which way a board's grain or pattern runs.
    Grain {
        None = "none",
        /// Along the sheet's first dimension.
        Length = "length",
        /// Along its second.
        Width = "width",
    }

    /// What counts where a pattern runs on.
    Aim {
        /// No step, at the cost of a strip wasted at each joint.
        Exact = "exact",
        /// No more wasted than the saw takes; the pattern jumps by what that comes to.
        LeastWaste = "least waste",
    }

    /// What a board is made of: its density comes from this unless it is given.
    Core {
        Mdf = "MDF", ParticleBoard = "particle board", BirchPlywood = "birch plywood",
        SolidSurface = "solid surface", SolidWood = "solid wood",
        CompactLaminate = "compact laminate", Glass = "glass", Other = "other",
    }

    /// What a piece of hardware is.
    HardwareKind {
        Hinge = "hinge", Handle = "handle", Foot = "foot", Runner = "runner", Rail = "rail",
        Latch = "latch", Stay = "stay", Straightener = "straightener", Track = "track",
        Fixing = "fixing",
    }

    /// What an option of a risk comes to.
    OptionKind {
        /// Leave it as it is.
        Nothing = "nothing",
        /// Put aside, and called on only if it happens.
        Contingency = "contingency",
        /// Make it otherwise.
        Change = "change",
    }

    /// How much a risk weighs.
    Weight {
        /// It must be decided or accepted.
        Decide = "decide",
        /// It is good to know.
        Know = "know",
    }

    /// When others work, told from ours.
    Turn {
        /// Before anything is fitted.
        Before = "before",
        /// In between: once what it waits for stands.
        During = "during",
        /// When all is fitted.
        After = "after",
    }
    /// Whom something is for.
    Reader { Client = "client", Fitter = "fitter", Both = "both", }
}

impl FrontKind {
    /// Whether a latch can hold it shut: a drawer's weight and runners do that by themselves.
    pub fn is_latched(self) -> bool {
        matches!(self, FrontKind::Door | FrontKind::Flap)
    }
}
