using System.Collections.Immutable;

namespace Commission.Core.Machines.Dialects;

/// <summary>How a family of controllers speaks, as data. Wire syntax stands here and nowhere in code.</summary>
public sealed record Dialect
{
    /// <summary>Name, as typed after <c>--dialect</c>.</summary>
    public required string Name { get; init; }

    /// <summary>What the family does, in general words.</summary>
    public required string Title { get; init; }

    /// <summary>Where the knowledge is from, for example "from memory, to be checked on hardware".</summary>
    public required string Source { get; init; }

    /// <summary>Usual speed of the port, bits per second.</summary>
    public required int Baud { get; init; }

    /// <summary>Longest line the controller takes, in bytes, its end not counted.</summary>
    public required int LongestLine { get; init; }

    /// <summary>Why a line is not sent; null where the controller takes one of that length. Each character is a byte on the wire.</summary>
    /// <param name="line">The line without its end.</param>
    public string? TooLong(string line) => line.Length <= LongestLine ? null
        : FormattableString.Invariant($"the line is {line.Length} characters long, and this controller takes at most {LongestLine}");

    /// <summary>How lines are answered.</summary>
    public required DialectAnswers Answers { get; init; }

    /// <summary>How state and position are asked for and told.</summary>
    public required DialectStatus Status { get; init; }

    /// <summary>How motion is stopped.</summary>
    public required DialectStop Stop { get; init; }

    /// <summary>How motion, homing and unlocking are asked for.</summary>
    public required DialectMotion Motion { get; init; }

    /// <summary>How settings are listed and written.</summary>
    public required DialectSettings Settings { get; init; }

    /// <summary>Locks and alarms that are known by their code.</summary>
    public ImmutableArray<DialectLock> Locks { get; init; } = [];

    /// <summary>Refusals that are known by their code.</summary>
    public ImmutableSortedDictionary<string, string> Refusals { get; init; } = ImmutableSortedDictionary<string, string>.Empty;

    /// <summary>The lock with this code, or the one called <c>none</c> where the controller told no code; null where the dialect does not know it.</summary>
    public DialectLock? Lock(string? code) => Locks.FirstOrDefault(one => one.Code == (code ?? "none"));
}

/// <summary>How lines from the controller begin, by meaning; after a leading <c>*</c> the rest may stand anywhere in the line.</summary>
public sealed record DialectAnswers
{
    /// <summary>The line was taken.</summary>
    public required ImmutableArray<string> Done { get; init; }

    /// <summary>The line was refused; a code may follow.</summary>
    public required ImmutableArray<string> Refused { get; init; }

    /// <summary>An alarm; a code may follow.</summary>
    public ImmutableArray<string> Alarm { get; init; } = [];

    /// <summary>Still at work, the answer follows.</summary>
    public ImmutableArray<string> Busy { get; init; } = [];

    /// <summary>Asks for a line again.</summary>
    public ImmutableArray<string> Resend { get; init; } = [];

    /// <summary>Greets after a restart.</summary>
    public required ImmutableArray<string> Greeting { get; init; }

    /// <summary>A remark without meaning for this program.</summary>
    public ImmutableArray<string> Remark { get; init; } = [];

    /// <summary>The greeting the simulated controller sends.</summary>
    public required string GreetingSample { get; init; }
}

/// <summary>The form in which state and position are told.</summary>
public enum StatusForm
{
    /// <summary>One line in angle brackets, fields parted by a bar, out of turn.</summary>
    Bracketed,

    /// <summary>Words with numbers, axis letter and colon, answered in turn; no state word.</summary>
    Letters,
}

/// <summary>How state, position and switches are asked for and told.</summary>
public sealed record DialectStatus
{
    /// <summary>The form of the answer.</summary>
    public required StatusForm Form { get; init; }

    /// <summary>Text that asks for the state. With <see cref="StatusForm.Bracketed"/> it goes without a line end.</summary>
    public required string Ask { get; init; }

    /// <summary>Line that asks for the switches; null where the state tells them.</summary>
    public string? AskSwitches { get; init; }

    /// <summary>State words and what they mean; empty where the dialect has none.</summary>
    public ImmutableSortedDictionary<string, ControllerState> Words { get; init; } = ImmutableSortedDictionary<string, ControllerState>.Empty;

    /// <summary>Name of the field with the machine position.</summary>
    public string? Machine { get; init; }

    /// <summary>Name of the field with the work position.</summary>
    public string? Work { get; init; }

    /// <summary>Name of the field with the distance from machine to work position.</summary>
    public string? Offset { get; init; }

    /// <summary>Name of the field with the pressed switches.</summary>
    public string? Pins { get; init; }

    /// <summary>Decimals of a shown position, mm.</summary>
    public required int Decimals { get; init; }

    /// <summary>Words for a pressed switch, where switches have their own answer.</summary>
    public ImmutableArray<string> Pressed { get; init; } = [];
}

/// <summary>Whether STOP is a byte that acts at once, or a line.</summary>
public enum StopForm
{
    /// <summary>Bytes that act the moment they arrive.</summary>
    Byte,

    /// <summary>A line that the controller looks ahead for.</summary>
    Line,
}

/// <summary>What becomes of the drives after STOP.</summary>
public enum DrivesAfterStop
{
    /// <summary>Not known: Z is to be supported.</summary>
    Unknown,

    /// <summary>They hold.</summary>
    Held,

    /// <summary>They let go: Z is to be supported.</summary>
    Released,
}

/// <summary>How motion is stopped.</summary>
public sealed record DialectStop
{
    /// <summary>Byte or line.</summary>
    public required StopForm How { get; init; }

    /// <summary>The code: bytes as they are, or the text of the line without its end.</summary>
    public required string Code { get; init; }

    /// <summary>Text that makes a half-written line invalid; needed where STOP is a line.</summary>
    public string? Spoil { get; init; }

    /// <summary>Longest time from the code to standstill, milliseconds.</summary>
    public required int WorstCaseMs { get; init; }

    /// <summary>What becomes of the drives.</summary>
    public required DrivesAfterStop Drives { get; init; }

    /// <summary>The longest time until everything stands, where STOP is a line; null where it is a byte, which leaves at once.</summary>
    public string? AtWorst => How == StopForm.Line ? FormattableString.Invariant($"at worst {WorstCaseMs / 1000.0:0.###} s until all stands") : null;

    /// <summary>The same as a clause that names STOP.</summary>
    public string? WorstCase => AtWorst is { } longest ? $"STOP is sent as a line: {longest}" : null;

    /// <summary>Longest single move, seconds: 10, or 3 where STOP is a line.</summary>
    public double LongestMoveS => How == StopForm.Line ? 3 : 10;
}

/// <summary>How motion is asked for.</summary>
public sealed record DialectMotion
{
    /// <summary>Lines of one relative move; <c>{axis}</c>, <c>{distance}</c> (mm, signed) and <c>{speed}</c> (mm/min) are filled in.</summary>
    public required ImmutableArray<string> Move { get; init; }

    /// <summary>Lines of the homing cycle, Z first.</summary>
    public required ImmutableArray<string> Home { get; init; }

    /// <summary>Whether state is answered while homing.</summary>
    public required bool AnswersWhileHoming { get; init; }

    /// <summary>Longest homing cycle, seconds.</summary>
    public required int LongestHomingS { get; init; }

    /// <summary>Line that unlocks; null where there is none.</summary>
    public string? Unlock { get; init; }

    /// <summary>Whether the controller stands locked after a restart, as the simulated one serves it.</summary>
    public bool LockedAfterRestart { get; init; }
}

/// <summary>A lock or alarm known by its code.</summary>
/// <param name="Code">Code as the controller tells it.</param>
/// <param name="Meaning">What it means, our own sentence without a full stop.</param>
/// <param name="HomingAllowed">Whether homing may be asked for in this lock.</param>
public sealed record DialectLock(string Code, string Meaning, bool HomingAllowed);
