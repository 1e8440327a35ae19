using System.Collections.Immutable;
using System.Globalization;

namespace Commission.Core.Machines.Dialects;

/// <summary>Reads a dialect file strictly: every wrong or unknown key is a problem with its line and column.</summary>
public static class DialectReader
{
    private const string Format = "commission.dialect/1";

    /// <summary>Reads the text of a file.</summary>
    /// <returns>The dialect, or every problem found.</returns>
    public static Outcome<Dialect> Read(string file, string text) => YamlFields.Read(file, text, Whole);

    private static Dialect Whole(YamlFields fields)
    {
        if (fields.Text("format") is { } format && format != Format)
            fields.Report(fields.Node, $"'{PlainText.Of(format)}' is not a format this program reads", $"Write 'format: {Format}'");
        var dialect = new Dialect
        {
            Name = Named(fields),
            Title = Text(fields, "title"),
            Source = Text(fields, "source"),
            Baud = fields.Whole("baud", 300, 4_000_000, required: true) ?? 115200,
            LongestLine = fields.Whole("longestLine", 20, 1000, required: true) ?? 80,
            Answers = Answers(fields.Fields("answers", "answers", required: true)),
            Status = Status(fields.Fields("status", "status", required: true)),
            Stop = Stop(fields.Fields("stop", "stop", required: true)),
            Motion = Motion(fields.Fields("motion", "motion", required: true)),
            Settings = Settings(fields.Fields("settings", "settings", required: true)),
            Locks = [.. fields.List("locks").Select(node => fields.Fields(node, "a lock")).OfType<YamlFields>().Select(Lock)],
            Refusals = Refusals(fields.Fields("refusals", "refusals")),
        };
        foreach (var line in Fixed(dialect).OfType<string>().Where(line => dialect.TooLong(line) is not null))
            fields.Report(fields.Node, $"'{PlainText.Of(line)}' is longer than longestLine, {dialect.LongestLine}", "Correct the line, or longestLine");
        fields.Done();
        return dialect;
    }

    // Lines that are sent as they stand; in those of moves and settings numbers take the place of the names.
    private static IEnumerable<string?> Fixed(Dialect dialect) =>
    [
        dialect.Status.Ask, dialect.Status.AskSwitches, dialect.Settings.List, dialect.Settings.Store, dialect.Motion.Unlock, .. dialect.Motion.Home,
        .. dialect.Stop.How == StopForm.Line ? (string?[])[dialect.Stop.Code, dialect.Stop.Spoil] : [],
    ];

    private static string Named(YamlFields fields)
    {
        var name = Text(fields, "name");
        if (!name.All(letter => char.IsAsciiLetterLower(letter) || char.IsAsciiDigit(letter) || letter == '-'))
            fields.Report(fields.Node, "a dialect's name has small letters, digits and dashes only", "Write it like numbered-settings");
        return name;
    }

    private static DialectAnswers Answers(YamlFields? fields)
    {
        if (fields is null)
            return new() { Done = [], Refused = [], Greeting = [], GreetingSample = "" };
        var answers = new DialectAnswers
        {
            Done = fields.Texts("done", required: true),
            Refused = fields.Texts("refused", required: true),
            Alarm = fields.Texts("alarm"),
            Busy = fields.Texts("busy"),
            Resend = fields.Texts("resend"),
            Greeting = fields.Texts("greeting", required: true),
            Remark = fields.Texts("remark"),
            GreetingSample = Text(fields, "greetingSample"),
        };
        fields.Done();
        return answers;
    }

    private static readonly Dictionary<string, StatusForm> Forms = new() { ["bracketed"] = StatusForm.Bracketed, ["letters"] = StatusForm.Letters };

    /// <summary>States of a controller by our words.</summary>
    public static IReadOnlyDictionary<string, ControllerState> States { get; } = new Dictionary<string, ControllerState>(StringComparer.Ordinal)
    {
        ["resting"] = ControllerState.Resting,
        ["moving"] = ControllerState.Moving,
        ["held"] = ControllerState.Held,
        ["locked"] = ControllerState.Locked,
        ["unknown"] = ControllerState.Unknown,
    };

    private static DialectStatus Status(YamlFields? fields)
    {
        if (fields is null)
            return new() { Form = StatusForm.Bracketed, Ask = "", Decimals = 3 };
        var words = ImmutableSortedDictionary.CreateBuilder<string, ControllerState>(StringComparer.Ordinal);
        if (fields.Fields("words", "the state words") is { } told)
        {
            foreach (var pair in told.Node.Pairs)
                words[pair.Key.Value] = told.Word(pair.Key.Value, States, ControllerState.Unknown);
            told.Done();
        }
        var status = new DialectStatus
        {
            Form = fields.Word("form", Forms, StatusForm.Bracketed, required: true),
            Ask = Text(fields, "ask"),
            AskSwitches = fields.Text("askSwitches", required: false),
            Words = words.ToImmutable(),
            Machine = fields.Text("machine", required: false),
            Work = fields.Text("work", required: false),
            Offset = fields.Text("offset", required: false),
            Pins = fields.Text("pins", required: false),
            Pressed = fields.Texts("pressed"),
            Decimals = fields.Whole("decimals", 0, 6, required: true) ?? 3,
        };
        if (status is { Form: StatusForm.Bracketed, Machine: null, Work: null })
            fields.Report(fields.Node, "no position field is named", "Add 'machine:' or 'work:' with the field's name");
        fields.Done();
        return status;
    }

    private static readonly Dictionary<string, StopForm> StopForms = new() { ["byte"] = StopForm.Byte, ["line"] = StopForm.Line };

    private static readonly Dictionary<string, DrivesAfterStop> Drives = new()
    {
        ["held"] = DrivesAfterStop.Held,
        ["released"] = DrivesAfterStop.Released,
        ["unknown"] = DrivesAfterStop.Unknown,
    };

    private static DialectStop Stop(YamlFields? fields)
    {
        if (fields is null)
            return new() { How = StopForm.Byte, Code = "", WorstCaseMs = 0, Drives = DrivesAfterStop.Unknown };
        var how = fields.Word("how", StopForms, StopForm.Line, required: true);
        var code = Text(fields, "code");
        var stop = new DialectStop
        {
            How = how,
            Code = how == StopForm.Byte ? Bytes(fields, code) : code,
            Spoil = fields.Text("spoil", required: how == StopForm.Line),
            WorstCaseMs = fields.Whole("worstCaseMs", 1, 60_000, required: true) ?? 0,
            Drives = fields.Word("drives", Drives, DrivesAfterStop.Unknown, required: true),
        };
        fields.Done();
        return stop;
    }

    // Bytes are written as 0x18 or 0x21 0x18: a control character may not stand in the file.
    private static string Bytes(YamlFields fields, string code)
    {
        var text = "";
        foreach (var word in code.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (word.StartsWith("0x", StringComparison.Ordinal)
                && byte.TryParse(word.AsSpan(2), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out var value) && value is not 10 and not 13)
                text += (char)value;
            else
                fields.Report(fields.Node, $"'{PlainText.Of(word)}' is no stop byte", "Write it like 0x18");
        }
        return text;
    }

    private static DialectMotion Motion(YamlFields? fields)
    {
        if (fields is null)
            return new() { Move = [], Home = [], AnswersWhileHoming = false, LongestHomingS = 0 };
        var motion = new DialectMotion
        {
            Move = fields.Texts("move", required: true),
            Home = fields.Texts("home", required: true),
            AnswersWhileHoming = fields.Word("answersWhileHoming", YesNo, false, required: true),
            LongestHomingS = fields.Whole("longestHomingS", 5, 600, required: true) ?? 0,
            Unlock = fields.Text("unlock", required: false),
            LockedAfterRestart = fields.Word("lockedAfterRestart", YesNo, false),
        };
        foreach (var line in motion.Move.Concat(motion.Home).Append(motion.Unlock ?? ""))
            if (DialectWords.Forbidden(line))
                fields.Report(fields.Node, $"'{PlainText.Of(line)}' holds a word that begins with M, S or T", "Motion is asked for without such words");
        var move = string.Concat(motion.Move);
        foreach (var part in new[] { "{axis}", "{distance}", "{speed}" })
            if (!move.Contains(part, StringComparison.Ordinal))
                fields.Report(fields.Node, $"'move' does not name {part}", $"Put {part} where the controller expects it");
        fields.Done();
        return motion;
    }

    private static readonly Dictionary<string, bool> YesNo = new() { ["true"] = true, ["false"] = false };
    private static readonly Dictionary<string, SettingsForm> SettingsForms = new() { ["numbered"] = SettingsForm.Numbered, ["words"] = SettingsForm.Words };

    private static DialectSettings Settings(YamlFields? fields)
    {
        if (fields is null)
            return new() { Form = SettingsForm.Numbered, List = "", Write = "", Known = [] };
        var settings = new DialectSettings
        {
            Form = fields.Word("form", SettingsForms, SettingsForm.Numbered, required: true),
            List = Text(fields, "list"),
            Write = Text(fields, "write"),
            Store = fields.Text("store", required: false),
            Known = [.. fields.List("known", required: true).Select(node => fields.Fields(node, "a setting")).OfType<YamlFields>().Select(Setting)],
        };
        if (!settings.Write.Contains("{key}", StringComparison.Ordinal) || !settings.Write.Contains("{value}", StringComparison.Ordinal))
            fields.Report(fields.Node, "'write' must name {key} and {value}", "Write it like ${key}={value}");
        foreach (var twice in settings.Known.GroupBy(one => one.Key).Where(group => group.Count() > 1))
            fields.Report(fields.Node, $"the setting '{PlainText.Of(twice.Key)}' is given twice", "Remove one of the two");
        fields.Done();
        return settings;
    }

    private static readonly Dictionary<string, AxisName?> Axes = new() { ["X"] = AxisName.X, ["Y"] = AxisName.Y, ["Z"] = AxisName.Z };

    private static readonly Dictionary<string, SettingWeight> Weights = new()
    {
        ["direction"] = SettingWeight.Direction,
        ["enabling"] = SettingWeight.Enabling,
        ["switches"] = SettingWeight.Switches,
        ["homing"] = SettingWeight.Homing,
    };

    private static DialectSetting Setting(YamlFields fields)
    {
        var setting = new DialectSetting
        {
            Key = Text(fields, "key"),
            Name = Text(fields, "name"),
            Axis = fields.Word("axis", Axes, null),
            Unit = fields.Text("unit", required: false),
            Weight = fields.Word("decides", Weights, SettingWeight.Plain),
            Sample = fields.Text("sample", required: false),
        };
        fields.Done();
        return setting;
    }

    private static readonly Dictionary<string, bool> Allowed = new() { ["allowed"] = true, ["refused"] = false };

    private static DialectLock Lock(YamlFields fields)
    {
        var one = new DialectLock(Text(fields, "code"), Text(fields, "meaning"), fields.Word("homing", Allowed, false, required: true));
        fields.Done();
        return one;
    }

    private static ImmutableSortedDictionary<string, string> Refusals(YamlFields? fields)
    {
        if (fields is null)
            return ImmutableSortedDictionary<string, string>.Empty;
        var refusals = fields.Node.Pairs.ToImmutableSortedDictionary(pair => pair.Key.Value, pair => Text(fields, pair.Key.Value), StringComparer.Ordinal);
        fields.Done();
        return refusals;
    }

    private static string Text(YamlFields fields, string key) => fields.Text(key) ?? "";
}
