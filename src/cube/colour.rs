//! The six colours (directions of the body frame), the six faces (directions of a hold), and sets of them.

/// A colour, and at once the direction in which its centre lies.
///
/// The scheme is common practice (no source; WCA Regulation 3a3 prescribes none): white opposite yellow,
/// green opposite blue, red opposite orange; with white up and green in front, red is on the right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[repr(u8)]
pub enum Colour {
    /// Up in the scramble's hold.
    White,
    /// Opposite white.
    Yellow,
    /// In front in the scramble's hold.
    Green,
    /// Opposite green.
    Blue,
    /// On the right in the scramble's hold.
    Red,
    /// Opposite red.
    Orange,
}

/// A face of the cube as it sits in the hands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[repr(u8)]
pub enum Face {
    /// Up.
    U,
    /// Down.
    D,
    /// Front.
    F,
    /// Back.
    B,
    /// Right.
    R,
    /// Left.
    L,
}

/// For direction `d`, the four neighbours clockwise as seen from outside. Directions 0 to 5 are `U D F B R L`
/// (and white, yellow, green, blue, red, orange). Every turn table is computed from this one.
pub(super) const RING: [[u8; 4]; 6] = [
    [2, 5, 3, 4], // from above: front, left, back, right
    [2, 4, 3, 5], // from below: front, right, back, left
    [0, 4, 1, 5], // from the front: up, right, down, left
    [0, 5, 1, 4], // from the back: up, left, down, right
    [0, 3, 1, 2], // from the right: up, back, down, front
    [0, 2, 1, 3], // from the left: up, front, down, back
];

impl Colour {
    /// All six, in the order of the enum.
    pub const ALL: [Colour; 6] =
        [Colour::White, Colour::Yellow, Colour::Green, Colour::Blue, Colour::Red, Colour::Orange];

    /// The colour on the other side of the cube.
    #[must_use]
    pub const fn opposite(self) -> Colour {
        Colour::ALL[self as usize ^ 1]
    }

    /// The four neighbours, clockwise as seen from outside this face.
    #[must_use]
    pub const fn ring(self) -> [Colour; 4] {
        let ring = RING[self as usize];
        [
            Colour::ALL[ring[0] as usize],
            Colour::ALL[ring[1] as usize],
            Colour::ALL[ring[2] as usize],
            Colour::ALL[ring[3] as usize],
        ]
    }
}

impl Face {
    /// All six, in the order of the enum.
    pub const ALL: [Face; 6] = [Face::U, Face::D, Face::F, Face::B, Face::R, Face::L];

    /// The face on the other side of the cube.
    #[must_use]
    pub const fn opposite(self) -> Face {
        Face::ALL[self as usize ^ 1]
    }

    /// The four neighbours, clockwise as seen from outside this face.
    #[must_use]
    pub const fn ring(self) -> [Face; 4] {
        let ring = RING[self as usize];
        [
            Face::ALL[ring[0] as usize],
            Face::ALL[ring[1] as usize],
            Face::ALL[ring[2] as usize],
            Face::ALL[ring[3] as usize],
        ]
    }
}

macro_rules! set_of {
    ($(#[$doc:meta])* $set:ident of $item:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
        pub struct $set(u8);

        impl $set {
            /// The empty set.
            pub const EMPTY: $set = $set(0);
            /// All six.
            pub const ALL: $set = $set(0b11_1111);

            /// The set of the given items.
            #[must_use]
            pub const fn of(items: &[$item]) -> $set {
                let mut bits = 0;
                let mut i = 0;
                while i < items.len() {
                    bits |= 1 << items[i] as u8;
                    i += 1;
                }
                $set(bits)
            }

            /// Whether `item` is in the set.
            #[must_use]
            pub const fn contains(self, item: $item) -> bool {
                self.0 & (1 << item as u8) != 0
            }

            /// The set with `item` added.
            #[must_use]
            pub const fn with(self, item: $item) -> $set {
                $set(self.0 | 1 << item as u8)
            }

            /// Everything in either set.
            #[must_use]
            pub const fn union(self, other: $set) -> $set {
                $set(self.0 | other.0)
            }

            /// Whether every item of `other` is in this set.
            #[must_use]
            pub const fn is_superset(self, other: $set) -> bool {
                self.0 & other.0 == other.0
            }

            /// The set as a number below 64: bit `i` stands for the `i`-th item of the enum.
            #[must_use]
            pub const fn bits(self) -> u8 {
                self.0
            }

            /// How many items there are.
            #[must_use]
            pub const fn len(self) -> usize {
                self.0.count_ones() as usize
            }

            /// Whether there are none.
            #[must_use]
            pub const fn is_empty(self) -> bool {
                self.0 == 0
            }

            /// The items, in the order of the enum.
            pub fn iter(self) -> impl Iterator<Item = $item> {
                $item::ALL.into_iter().filter(move |&item| self.contains(item))
            }
        }

        impl FromIterator<$item> for $set {
            fn from_iter<I: IntoIterator<Item = $item>>(items: I) -> $set {
                items.into_iter().fold($set::EMPTY, $set::with)
            }
        }
    };
}

set_of! {
    /// A set of colours, or of directions of the body frame.
    ColourSet of Colour
}
set_of! {
    /// A set of faces of the hold, such as those a solver sees.
    FaceSet of Face
}
