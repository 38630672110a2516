//! The stable codes of all diagnostics, in one list. A code never changes its meaning and is
//! never used again for another.

use crate::diagnostic::Severity;

macro_rules! codes {
    ($($(#[doc = $doc:literal])+ $name:ident = $id:literal, $title:literal;)+) => {
        /// The stable code of a diagnostic. Codes that begin with `E` are errors, with `W`
        /// warnings. The first two digits name the stage that finds it.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Code {
            $($(#[doc = $doc])+ $name,)+
        }

        impl Code {
            /// Every code.
            pub const ALL: &[Self] = &[$(Self::$name,)+];

            /// The code as shown: `E0202`.
            pub fn id(self) -> &'static str {
                match self { $(Self::$name => $id,)+ }
            }

            /// What it is about, in a few words.
            pub fn title(self) -> &'static str {
                match self { $(Self::$name => $title,)+ }
            }
        }
    };
}

codes! {
    /// The bytes of a text are not UTF-8.
    NotUtf8 = "E0101", "the file is not UTF-8 text";
    /// A plan without any statement.
    EmptyPlan = "E0102", "the plan is empty";
    /// A `{` or `(` without its partner.
    Unclosed = "E0103", "a block is not closed";
    /// A `}` without its partner.
    StrayBrace = "E0104", "a brace closes nothing";
    /// A quoted name that runs to the end of its line.
    UnclosedText = "E0105", "a quoted text is not closed";
    /// A statement that cannot be read.
    Syntax = "E0106", "a statement cannot be read";
    /// A word that begins no statement here.
    UnknownStatement = "E0107", "a word begins no statement here";
    /// The version line is missing or names a version unknown here.
    Version = "E0108", "the version line is missing or unknown";
    /// Blocks or brackets nested too deep.
    TooDeep = "E0109", "nested too deep";
    /// A number with a unit that is none.
    UnknownUnit = "E0110", "a unit is not known";
    /// A number that is none: a fraction over zero, a number too large.
    BadNumber = "E0111", "a number cannot be read";
    /// A text over the size that is read.
    TooLarge = "E0112", "the file is too large";

    /// A name that nothing defines.
    UnknownName = "E0201", "a name is not defined";
    /// A face, structure or opening asks for a finish that is not there.
    UnknownFinish = "E0202", "a finish is not defined";
    /// A name defined twice.
    DefinedTwice = "E0203", "a name is defined twice";
    /// Names defined through each other.
    Circle = "E0204", "names are defined in a circle";
    /// A quantity of another kind than is needed.
    WrongKind = "E0205", "the kinds of quantities do not fit";
    /// A plain number where a measure is needed.
    MissingUnit = "E0206", "a unit is missing";
    /// An expression without a value.
    NoValue = "E0207", "an expression has no value";
    /// A setting that must be given.
    MissingSetting = "E0208", "a setting is missing";
    /// A setting given twice.
    SettingTwice = "E0209", "a setting is given twice";
    /// A value outside what makes sense.
    OutOfRange = "E0210", "a value is out of range";
    /// A word that a setting does not know.
    UnknownWord = "E0211", "a setting does not know this word";
    /// A substrate that the rule pack does not know.
    UnknownSubstrate = "E0212", "a substrate is not known";
    /// A technique that the rule pack does not know.
    UnknownTechnique = "E0213", "a technique is not known";
    /// A structure from a template that is not there.
    UnknownTemplate = "E0219", "a template is not defined";
    /// A template that gets more or fewer values than it has parameters.
    TemplateValues = "E0220", "a template gets another number of values";
    /// A measure of a structure where one value is needed.
    SeveralValues = "E0221", "one value is needed where there are several";
    /// A shape of a pack with more or fewer sizes than it has.
    WrongSizes = "E0222", "a shape gets another number of sizes";
    /// A finish that no face uses.
    UnusedFinish = "W0214", "a finish is not used";
    /// A `let` that nothing uses.
    UnusedName = "W0215", "a name is not used";
    /// A setting that nothing asks for.
    UnusedSetting = "W0217", "a setting changes nothing";
    /// Work that begins before the day of the bid.
    StartsBeforeBid = "W0223", "work begins before the day of the bid";
    /// Structures that begin after each other.
    OrderCircle = "E0224", "structures wait for each other in a circle";
    /// A structure without a face.
    EmptyStructure = "W0218", "a structure has no face";
    /// The plan has no structure, so there is nothing to estimate.
    NothingToBuild = "E0216", "the plan has no face";

    /// An opening that does not fit its face.
    OpeningTooLarge = "E0301", "an opening is larger than its face";
    /// Openings that together take more than the face has.
    OpeningsExceedFace = "E0302", "openings take more than the face";
    /// A working height below the face's own height.
    LowWorkingHeight = "W0306", "a working height is below its face";
    /// Sizes that make no shape.
    ImpossibleShape = "E0303", "the sizes make no shape";
    /// A size that would fit its neighbours in their unit, and does not in its own.
    OutOfLine = "W0304", "a size is out of line with its neighbours";
    /// Openings that leave next to nothing of a face.
    NearlyAllOpening = "W0305", "openings leave nearly nothing of a face";
    /// The days of work cannot be planned.
    NotPlanned = "W0311", "the days of work cannot be planned";
    /// The weather of the job takes no coats.
    TooCold = "W0312", "the weather of the job takes no coats";

    /// A rule pack that is not there.
    PackNotFound = "E0401", "the rule pack is not found";
    /// The manifest of a pack cannot be read.
    BadManifest = "E0402", "the pack's manifest cannot be read";
    /// A script that does not compile.
    BadScript = "E0403", "a rule script cannot be read";
    /// A table row without a value, unit or source that can be read.
    BadTable = "E0404", "a table cannot be read";
    /// Two rows of a table with one key.
    KeyTwice = "E0405", "a table row stands twice";
    /// A rule stopped with an error.
    RuleFailed = "E0406", "a rule stopped";
    /// A rule went over what it may use.
    RuleLimit = "E0407", "a rule used too much";
    /// A function of a script that is no hook, or has the wrong parameters.
    BadHook = "E0408", "a rule function is not known or takes other parameters";
    /// Packs that extend each other, or a chain of packs that is too long.
    PackCircle = "E0410", "packs extend each other without an end";
    /// A pack that was made for a newer program.
    NewerEngine = "E0411", "the pack needs a newer program";
    /// A row or a function of a pack that does not fit the one under it.
    CannotReplace = "E0412", "a row or a rule does not fit the one that it replaces";
    /// A test of a pack that cannot be run.
    BadPackTest = "E0413", "a test of a pack cannot be read";
    /// A rule has something to say about a face.
    RuleWarning = "W0409", "a rule warns";

    /// A price book that cannot be used.
    BadPriceBook = "E0501", "the price book cannot be read";
    /// A row of a price book that cannot be read.
    BadPriceRow = "E0502", "a price row cannot be read";
    /// An item priced twice.
    PricedTwice = "E0503", "an item is priced twice";
    /// A pack measured in another kind than the need.
    PackMismatch = "E0504", "the pack does not fit the need";
    /// An item without a price. The estimate is incomplete.
    NoPrice = "E0505", "an item has no price";
    /// A price whose last day is before the day of the bid.
    PriceExpired = "W0506", "a price is out of date";
    /// A bid without a stated profit, overhead or tax.
    BidTermMissing = "W0507", "the bid leaves a term open";
    /// An amount that outgrows what can be written.
    MoneyTooLarge = "E0508", "an amount is too large";
    /// Prices that end some day, and a job that does not say of what day it is.
    NoDate = "W0509", "the job has no date to hold prices against";

    /// A price whose last day is before the last day on which the bid can be accepted.
    PriceEndsFirst = "W0511", "a price ends before the bid does";
    /// An amount in another currency than the price book.
    OtherCurrency = "E0510", "an amount is in another currency";

    /// A file that cannot be read.
    CannotRead = "E0601", "a file cannot be read";
    /// A file that cannot be written.
    CannotWrite = "E0602", "a file cannot be written";
    /// A file or folder that is already there.
    AlreadyThere = "E0603", "it is already there";
    /// An included file outside the folder of the plan.
    IncludeOutside = "E0604", "an included file lies outside the plan's folder";
    /// Files that include each other.
    IncludeCircle = "E0605", "files include each other in a circle";
    /// A statement that an included file may not have.
    NotInIncluded = "E0606", "a statement does not belong into an included file";
    /// A file with the weather of days that cannot be used.
    BadForecast = "E0607", "the weather of days cannot be read";

    /// A file with measurements that cannot be read at all.
    BadSheet = "E0701", "a client's sheet cannot be read";
    /// A sheet without a table of measurements.
    NoTable = "E0702", "no table of measurements is found";
    /// Something in a sheet can be meant in more than one way.
    SheetQuestion = "E0703", "a sheet can be read in more than one way";
    /// A profile that cannot be used.
    BadProfile = "E0704", "a profile cannot be read";
    /// A row of a sheet that is not taken over.
    RowRejected = "W0705", "a row of a sheet is not taken over";
    /// A figure of a sheet that other figures of it contradict.
    SheetContradicts = "W0706", "a sheet contradicts itself";
    /// Something in a sheet that should be looked at.
    SheetDoubt = "W0707", "something in a sheet should be looked at";
    /// The plan that was made says something else than the sheet.
    NotReconciled = "E0708", "the plan does not say what the sheet says";
    /// A revised sheet and the plan changed the same.
    UpdateConflict = "E0709", "a revised sheet and the plan changed the same";

    /// A line or row of a record of what was used that cannot be read.
    BadActuals = "E0801", "a record of what was used cannot be read";
    /// A use that a record states twice.
    UsedTwice = "E0802", "a use is stated twice";
    /// A use below nothing.
    NegativeUse = "E0803", "a use is below nothing";
    /// Plan, rules or prices that are not those that a record cites.
    ChangedSincePriced = "E0804", "plan, rules or prices changed since the job was priced";
    /// The same, where they are compared at the user's word.
    ComparedThoughChanged = "W0805", "a record is compared with what did not price its job";
    /// What a record states and no line of the estimate has.
    MatchesNoLine = "W0806", "a use matches no line of the estimate";
    /// A record that names another job.
    RecordOfOtherJob = "E0807", "the record is of another job";
    /// A job that stands twice in a folder of past jobs.
    JobTwice = "E0810", "a past job is counted twice";
    /// A past job that cannot teach anything as it stands.
    JobUnfit = "E0811", "a past job cannot be learned from";
    /// The same, where it is left out at the user's word.
    JobLeftOut = "W0812", "a past job is left out";
    /// A pack that is to be changed and is the program's own.
    PackOfProgram = "E0813", "a pack of the program is never changed";
    /// A pack without table `spread`, where a range is asked for.
    NoSpread = "E0814", "the pack does not say how far its factors stray";
}

impl Code {
    /// Whether the code is of an error or a warning.
    pub fn severity(self) -> Severity {
        if self.id().starts_with('W') {
            Severity::Warning
        } else {
            Severity::Error
        }
    }
}

#[cfg(test)]
mod tests;
