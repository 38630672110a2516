//! Which tokens of a head stand apart, and where a head that is too long may be broken.

use super::token::{Kind, Token};

/// Words with an expression directly behind them: a `-` there is a sign, a `(` a bracket.
const BEFORE_EXPRESSIONS: [&str; 35] = [
    "air",
    "around",
    "at",
    "burden",
    "class",
    "contingency",
    "count",
    "crew",
    "diameter",
    "ellipse",
    "frustum",
    "height",
    "high",
    "hours",
    "humidity",
    "margin",
    "markup",
    "measured",
    "mix",
    "overhead",
    "radius",
    "rect",
    "relief",
    "reveal",
    "ring",
    "rise",
    "sides",
    "sweep",
    "tax",
    "thickness",
    "to",
    "trapezoid",
    "travel",
    "valid",
    "wind",
];

/// Functions; their brackets follow without a blank wherever they stand.
const FUNCTIONS: [&str; 5] = ["max", "min", "round", "sqrt", "sum"];

/// Words behind which a name with brackets is one thing, as in `from bay(4ft)`.
const BEFORE_CALLS: [&str; 3] = ["from", "shape", "template"];

/// A token with how it stands beside the one before it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Piece<'t> {
    pub token: Token<'t>,
    /// Whether a blank stands before it.
    pub blank: bool,
    /// Whether the line may be broken behind it, and in how many brackets that would be.
    pub break_after: Option<usize>,
}

impl Piece<'_> {
    /// Columns of the token.
    pub(super) fn width(&self) -> usize {
        self.token.text.chars().count()
    }
}

/// What a token is in its expression.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Role {
    /// A value, or the end of one.
    Operand,
    /// A sign before its operand.
    Negation,
    /// An operator between two.
    Between,
    /// Anything else.
    Plain,
}

/// The tokens of a head, comments among them, with the blanks between them.
pub(super) fn pieces<'t>(tokens: &[Token<'t>]) -> Vec<Piece<'t>> {
    let mut reading = Reading::default();
    let mut pieces = Vec::with_capacity(tokens.len());
    for (at, token) in tokens.iter().enumerate() {
        let next = tokens.get(at + 1);
        if token.kind == Kind::Comment {
            let (token, blank, break_after) = (*token, true, None);
            pieces.push(Piece {
                token,
                blank,
                break_after,
            });
        } else {
            pieces.push(reading.take(*token, next));
        }
    }
    pieces
}

/// What was read of a head so far.
#[derive(Default)]
struct Reading<'t> {
    depth: usize,
    /// Whether an operand must follow.
    expects: bool,
    /// The two tokens before, the nearer one first, with their roles.
    before: [Option<(Token<'t>, Role)>; 2],
}

impl<'t> Reading<'t> {
    fn take(&mut self, token: Token<'t>, next: Option<&Token<'_>>) -> Piece<'t> {
        let role = self.role(&token, next);
        let blank = self.blank(&token);
        match token.kind {
            Kind::OpenParen => self.depth += 1,
            Kind::CloseParen => self.depth = self.depth.saturating_sub(1),
            _ => {}
        }
        let breaks = token.kind == Kind::Comma || role == Role::Between;
        self.expects = match token.kind {
            Kind::Times | Kind::Equals | Kind::Sign | Kind::OpenParen => true,
            // In brackets values follow, elsewhere mostly names: `granite 60%, moss 40%`.
            Kind::Comma => self.depth > 0,
            // `edge cap 4ft`: the kind may be any word.
            Kind::Word | Kind::Text if self.names_edge() => true,
            Kind::Word => role == Role::Plain && BEFORE_EXPRESSIONS.contains(&token.text),
            _ => false,
        };
        self.before = [Some((token, role)), self.before[0]];
        Piece {
            token,
            blank,
            break_after: breaks.then_some(self.depth),
        }
    }

    fn role(&self, token: &Token<'_>, next: Option<&Token<'_>>) -> Role {
        match token.kind {
            Kind::Number | Kind::Text | Kind::CloseParen => Role::Operand,
            Kind::Word if self.expects || self.follows(Kind::Dot) => Role::Operand,
            Kind::Sign if token.text == "-" && self.negates(token, next) => Role::Negation,
            Kind::Sign | Kind::Equals => Role::Between,
            _ => Role::Plain,
        }
    }

    /// Whether a `-` stands before its operand and not between two.
    fn negates(&self, token: &Token<'_>, next: Option<&Token<'_>>) -> bool {
        let Some((before, role)) = self.before[0] else {
            return true;
        };
        let written_so = token.apart && next.is_some_and(|next| !next.apart);
        self.expects
            || before.kind == Kind::Comma
            // Whether a word is a value is not always known here; the writer knew.
            || before.kind == Kind::Word && role == Role::Plain && written_so
    }

    fn blank(&self, token: &Token<'_>) -> bool {
        let Some((before, role)) = self.before[0] else {
            return false;
        };
        match (before.kind, token.kind) {
            (Kind::OpenParen | Kind::Dot, _) | (_, Kind::CloseParen | Kind::Comma | Kind::Dot) => {
                false
            }
            _ if role == Role::Negation => false,
            (Kind::Word | Kind::Text, Kind::OpenParen) => !self.is_call(&before, role),
            (Kind::Other, _) | (_, Kind::Other) => token.apart,
            _ => true,
        }
    }

    /// Whether brackets behind a name belong to it: `min(a, b)`, but `polygon (0ft, 0ft)`.
    fn is_call(&self, name: &Token<'_>, role: Role) -> bool {
        let wanted = |(before, _): (Token<'_>, Role)| BEFORE_CALLS.contains(&before.text);
        name.kind == Kind::Word && (role == Role::Operand || FUNCTIONS.contains(&name.text))
            || self.before[1].is_some_and(wanted)
    }

    fn names_edge(&self) -> bool {
        self.before[0].is_some_and(|(before, role)| before.text == "edge" && role == Role::Plain)
            && self.before[1].is_none()
    }

    fn follows(&self, kind: Kind) -> bool {
        self.before[0].is_some_and(|(before, _)| before.kind == kind)
    }
}
