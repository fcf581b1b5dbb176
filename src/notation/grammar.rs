//! The leaves of the grammar (nom): one token, one count behind a group, one time.
//!
//! Nothing here knows spans: where something stood follows from how much input was eaten.

use nom::branch::alt;
use nom::bytes::complete::take_while_m_n;
use nom::character::complete::{char, digit1, one_of, satisfy, space0, space1};
use nom::combinator::{map, map_opt, not, opt, peek, recognize, value, verify};
use nom::sequence::{preceded, terminated};
use nom::{IResult, Parser};

use crate::cube::{Amount, Axis, Face, Move, Slice};

/// The result of a leaf: what is left and what was read. Why it failed is said by the caller.
pub(super) type Leaf<'a, T> = IResult<&'a str, T, ()>;

/// The ways a token may differ from the plain form. Each is a note.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Slips(u16);

impl Slips {
    pub(super) const NONE: Slips = Slips(0);
    /// A prime that is not `'`.
    pub(super) const PRIME: Slips = Slips(1);
    /// `X` for `x`.
    pub(super) const CAPITAL: Slips = Slips(1 << 1);
    /// `m` for `M`.
    pub(super) const SMALL_SLICE: Slips = Slips(1 << 2);
    /// `RW` or `rw` for `Rw`.
    pub(super) const WIDE_CASE: Slips = Slips(1 << 3);
    /// `R'2` for `R2'`, `R'w` for `Rw'`.
    pub(super) const ORDER: Slips = Slips(1 << 4);
    /// `R1`, `Ri`, `R²`.
    pub(super) const SUFFIX: Slips = Slips(1 << 5);

    pub(super) fn is_none(self) -> bool {
        self == Slips::NONE
    }

    pub(super) fn has(self, other: Slips) -> bool {
        self.0 & other.0 != 0
    }

    fn with(self, other: Slips) -> Slips {
        Slips(self.0 | other.0)
    }

    fn when(self, yes: bool) -> Slips {
        if yes { self } else { Slips::NONE }
    }
}

/// The sign itself, and everything that keyboards, word processors and typesetters make of it.
pub(crate) const fn is_prime(c: char) -> bool {
    matches!(
        c,
        '\'' | '`'
            | '\u{B4}'
            | '\u{2018}'
            | '\u{2019}'
            | '\u{201B}'
            | '\u{2032}'
            | '\u{2B9}'
            | '\u{2BC}'
            | '\u{FF07}'
    )
}

#[derive(Clone, Copy)]
enum Base {
    Outer(Face),
    Wide(Face),
    Slice(Slice),
    Rotation(Axis),
}

fn base(c: char) -> Option<(Base, Slips)> {
    let plain = |base| Some((base, Slips::NONE));
    match c {
        'U' => plain(Base::Outer(Face::U)),
        'D' => plain(Base::Outer(Face::D)),
        'F' => plain(Base::Outer(Face::F)),
        'B' => plain(Base::Outer(Face::B)),
        'R' => plain(Base::Outer(Face::R)),
        'L' => plain(Base::Outer(Face::L)),
        'u' => plain(Base::Wide(Face::U)),
        'd' => plain(Base::Wide(Face::D)),
        'f' => plain(Base::Wide(Face::F)),
        'b' => plain(Base::Wide(Face::B)),
        'r' => plain(Base::Wide(Face::R)),
        'l' => plain(Base::Wide(Face::L)),
        'M' => plain(Base::Slice(Slice::M)),
        'E' => plain(Base::Slice(Slice::E)),
        'S' => plain(Base::Slice(Slice::S)),
        'x' => plain(Base::Rotation(Axis::X)),
        'y' => plain(Base::Rotation(Axis::Y)),
        'z' => plain(Base::Rotation(Axis::Z)),
        'm' => Some((Base::Slice(Slice::M), Slips::SMALL_SLICE)),
        'e' => Some((Base::Slice(Slice::E), Slips::SMALL_SLICE)),
        's' => Some((Base::Slice(Slice::S), Slips::SMALL_SLICE)),
        'X' => Some((Base::Rotation(Axis::X), Slips::CAPITAL)),
        'Y' => Some((Base::Rotation(Axis::Y), Slips::CAPITAL)),
        'Z' => Some((Base::Rotation(Axis::Z), Slips::CAPITAL)),
        _ => None,
    }
}

/// `prime = "'" | (typographic primes)`
fn prime(input: &str) -> Leaf<'_, Slips> {
    map(satisfy(is_prime), |c| Slips::PRIME.when(c != '\'')).parse(input)
}

/// `quarters = "2" | "3"`, leniently `"1" | "²" | "³"`
fn quarters(input: &str) -> Leaf<'_, (u32, Slips)> {
    map_opt(nom::character::complete::anychar, |c| match c {
        '1' => Some((1, Slips::SUFFIX)),
        '2' => Some((2, Slips::NONE)),
        '3' => Some((3, Slips::NONE)),
        '²' => Some((2, Slips::SUFFIX)),
        '³' => Some((3, Slips::SUFFIX)),
        _ => None,
    })
    .parse(input)
}

/// `suffix = [quarters] [prime]`, leniently `prime quarters` or `"i"`
pub(super) fn suffix(input: &str) -> Leaf<'_, (Amount, Slips)> {
    let amount = |count: u32, back: bool| {
        // Both fit: the count is 1, 2 or 3.
        Amount::from_quarters(if back { 4 - count } else { count }).unwrap_or(Amount::Quarter)
    };
    alt((
        map((quarters, opt(prime)), |((count, slips), prime)| {
            (amount(count, prime.is_some()), slips.with(prime.unwrap_or_default()))
        }),
        map((prime, opt(quarters)), |(prime, quarters)| match quarters {
            Some((count, slips)) => (amount(count, true), prime.with(slips).with(Slips::ORDER)),
            None => (Amount::Back, prime),
        }),
        value((Amount::Back, Slips::SUFFIX), terminated(char('i'), not(satisfy(char::is_alphanumeric)))),
        |input| Ok((input, (Amount::Quarter, Slips::NONE))),
    ))
    .parse(input)
}

/// `token = ["2"] letter ["w"] suffix`, where `2` and `w` belong to wide turns only, and what follows is not
/// more of a suffix.
pub(super) fn token(input: &str) -> Leaf<'_, (Move, Slips)> {
    match plain_token(input) {
        Some(found) => Ok(found),
        None => any_token(input),
    }
}

/// The tokens that most of any text consists of: a letter, no suffix or one plain sign, then a blank. Only a
/// short cut; [`any_token`] reads them too.
fn plain_token(input: &str) -> Option<(&str, (Move, Slips))> {
    let bytes = input.as_bytes();
    let (base, slips) = base(char::from(*bytes.first()?))?;
    let blank = |at: usize| bytes.get(at).is_none_or(|&next| next == b' ' || next == b'\n');
    let (amount, length) = match bytes.get(1) {
        Some(b'\'') if blank(2) => (Amount::Back, 2),
        Some(b'2') if blank(2) => (Amount::Half, 2),
        _ if blank(1) => (Amount::Quarter, 1),
        _ => return None,
    };
    let mv = match base {
        Base::Outer(face) => Move::Turn(face, amount),
        Base::Wide(face) => Move::Wide(face, amount),
        Base::Slice(slice) => Move::Slice(slice, amount),
        Base::Rotation(axis) => Move::Rotation(axis, amount),
    };
    Some((&input[length..], (mv, slips)))
}

fn any_token(input: &str) -> Leaf<'_, (Move, Slips)> {
    let (input, _) = opt(terminated(char('2'), peek((one_of("UDFBRL"), one_of("wW"))))).parse(input)?;
    let (input, (base, mut slips)) = map_opt(nom::character::complete::anychar, base).parse(input)?;
    let (input, wide) = opt(one_of("wW")).parse(input)?;
    let (input, (amount, more)) = suffix(input)?;
    slips = slips.with(more);
    let (input, late) = match wide {
        None => opt(one_of("wW")).parse(input)?,
        Some(_) => (input, None),
    };
    if late.is_some() {
        slips = slips.with(Slips::ORDER);
    }
    not(satisfy(|c| c.is_numeric() || is_prime(c) || c == '^')).parse(input)?;
    let w = wide.or(late);
    let mv = match (base, w) {
        (Base::Outer(face), None) => Move::Turn(face, amount),
        (Base::Outer(face), Some(w)) => {
            slips = slips.with(Slips::WIDE_CASE.when(w == 'W'));
            Move::Wide(face, amount)
        }
        (Base::Wide(face), None) => Move::Wide(face, amount),
        (Base::Wide(face), Some(_)) => {
            slips = slips.with(Slips::WIDE_CASE);
            Move::Wide(face, amount)
        }
        (Base::Slice(slice), None) => Move::Slice(slice, amount),
        (Base::Rotation(axis), None) => Move::Rotation(axis, amount),
        (Base::Slice(_) | Base::Rotation(_), Some(_)) => return Err(nom::Err::Error(())),
    };
    Ok((input, (mv, slips)))
}

/// What stands behind a closing bracket.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Tail {
    /// How often the group is played; too large a number stays too large.
    pub(super) count: u64,
    /// Whether a prime follows: the group backwards.
    pub(super) back: bool,
    /// Whether it could be taken for a rotation: `) x3`.
    pub(super) like_rotation: bool,
}

fn number(input: &str) -> Leaf<'_, u64> {
    map(digit1, |digits: &str| {
        digits
            .bytes()
            .fold(0_u64, |sum, digit| sum.saturating_mul(10).saturating_add(u64::from(digit - b'0')))
    })
    .parse(input)
}

/// `tail = ["x" | "*" | "×"] number`, with blanks where no rotation `x2` can be meant; then `[prime]`.
pub(super) fn tail(input: &str) -> Leaf<'_, Tail> {
    let plain = |count| (count, false);
    let end = || not(satisfy(|c| c.is_alphanumeric() || is_prime(c)));
    let counted = alt((
        map(preceded(opt(one_of("xX")), number), plain),
        map(preceded((space0, one_of("xX"), space1), terminated(number, end())), plain),
        map(preceded((space0, one_of("*×"), space0), number), plain),
        map(preceded(space1, terminated(number, end())), plain),
        // `) x2` is the rotation; there is no rotation `x5`, and nobody writes `x3` for `x'`.
        map(
            preceded((space1, one_of("xX")), terminated(verify(number, |&n| n != 2 && n != 1), end())),
            |count| (count, true),
        ),
    ));
    let (rest, ((count, like_rotation), back)) =
        (map(opt(counted), |found| found.unwrap_or((1, false))), opt(prime)).parse(input)?;
    // `)x2'` is a rotation behind a bracket, `)2R` a turn: nothing to count.
    let eaten = &input[..input.len() - rest.len()];
    let rotation = back.is_some() && eaten.trim_start().starts_with(['x', 'X']);
    if eaten.is_empty() || rotation || rest.starts_with(|c: char| c.is_alphanumeric() || is_prime(c)) {
        return Err(nom::Err::Error(()));
    }
    Ok((rest, Tail { count, back: back.is_some(), like_rotation }))
}

/// A time as written, before it is known whether it makes sense.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Clock<'a> {
    pub(super) hours: Option<&'a str>,
    pub(super) minutes: Option<&'a str>,
    pub(super) seconds: &'a str,
    pub(super) fraction: Option<&'a str>,
    /// A decimal comma.
    pub(super) comma: bool,
}

/// `clock = [[hours ":"] minutes ":"] seconds ["." fraction]`: the cue timestamp of WebVTT and its short form.
pub(super) fn clock(input: &str) -> Leaf<'_, Clock<'_>> {
    let part = || opt(terminated(digit1, char(':')));
    let fraction =
        opt((one_of(".,"), recognize(take_while_m_n(1, usize::MAX, |c: char| c.is_ascii_digit()))));
    map((part(), part(), digit1, fraction), |(first, second, seconds, fraction)| Clock {
        hours: second.and(first),
        minutes: second.or(first),
        seconds,
        fraction: fraction.map(|(_, digits)| digits),
        comma: fraction.is_some_and(|(point, _)| point == ','),
    })
    .parse(input)
}

/// `frame = number "f"`
pub(super) fn frame(input: &str) -> Leaf<'_, u64> {
    terminated(number, (space0, one_of("fF"))).parse(input)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_short_cut_reads_as_the_grammar_does() {
        let mut taken = 0;
        for letter in ' '..='~' {
            for suffix in ["", "'", "2", "2'", "3", "w", "''", "1", "i", "R", "x"] {
                for end in ["", " ", "\n", "\t", ")", "(", "/", "R", "'", "2"] {
                    let text = format!("{letter}{suffix}{end}");
                    if let Some(found) = plain_token(&text) {
                        taken += 1;
                        assert_eq!(any_token(&text), Ok(found), "{text:?}");
                    }
                }
            }
        }
        assert!(taken > 24 * 9, "{taken}");
    }
}
