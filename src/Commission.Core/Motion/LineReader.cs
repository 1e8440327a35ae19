using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Quantities;

namespace Commission.Core.Motion;

/// <summary>Understands the lines of a controller by its dialect. Pure and total: any line has an answer, if only noise.</summary>
public sealed class LineReader(Dialect dialect)
{
    private readonly DialectAnswers words = dialect.Answers;
    private readonly DialectStatus status = dialect.Status;

    /// <summary>What a line means; more than one where an acknowledgement stands behind other text.</summary>
    public ImmutableArray<Answer> Read(string line)
    {
        line = line.Trim();
        if (line.Length == 0)
            return [];
        if (status.Form == StatusForm.Bracketed && line[0] == '<')
            return [Bracketed(line)];
        if (words.Done.Any(word => IsWord(line, word)))
            return [new Answer.Done()];
        if (words.Done.FirstOrDefault(word => line.EndsWith(" " + word, StringComparison.Ordinal)) is { } behind)
            return [.. Read(line[..^behind.Length]), new Answer.Done()];
        return Plain(line) is { Length: > 0 } plain ? plain : [Begins(words.Remark, line) is null ? new Answer.Noise(line) : new Answer.Remark(line)];
    }

    private ImmutableArray<Answer> Plain(string line)
    {
        if (Begins(words.Refused, line) is { } refused)
            return [new Answer.Refused(refused)];
        if (Begins(words.Alarm, line) is { } alarm)
            return [new Answer.Alarm(alarm)];
        if (Begins(words.Busy, line) is not null)
            return [new Answer.Busy()];
        if (Begins(words.Resend, line) is not null)
            return [new Answer.Resend()];
        if (Begins(words.Greeting, line) is not null)
            return [new Answer.Greeting()];
        if (Settings(line) is { Length: > 0 } settings)
            return settings;
        return status.Form == StatusForm.Letters && Letters(line) is { } told ? [told] : [];
    }

    // "ok" and "ok T:20" are the word, "okay" is not.
    private static bool IsWord(string line, string word) =>
        line.StartsWith(word, StringComparison.Ordinal) && (line.Length == word.Length || !char.IsAsciiLetterOrDigit(line[word.Length]));

    /// <summary>What stands behind the first of the beginnings that fits; null where none does.</summary>
    private static string? Begins(ImmutableArray<string> beginnings, string line)
    {
        foreach (var beginning in beginnings)
        {
            if (beginning is ['*', .. var inside] && line.Contains(inside, StringComparison.Ordinal))
                return "";
            if (line.StartsWith(beginning, StringComparison.Ordinal))
                return line[beginning.Length..].Trim();
        }
        return null;
    }

    private Answer Bracketed(string line)
    {
        if (line[^1] != '>')
            return new Answer.Noise(line);
        var fields = line[1..^1].Split('|');
        var word = fields[0].Split(':', 2);
        var told = new Answer.Status
        {
            State = status.Words.GetValueOrDefault(word[0], ControllerState.Unknown),
            Code = word.Length > 1 ? word[1] : null,
            Pressed = [],
        };
        foreach (var field in fields.Skip(1))
        {
            if (field.IndexOf(':', StringComparison.Ordinal) is var colon and > 0)
                told = Field(told, field[..colon], field[(colon + 1)..]);
        }
        return told;
    }

    private Answer.Status Field(Answer.Status told, string name, string value)
    {
        if (name == status.Pins)
            return told with { Pressed = [.. Enum.GetValues<AxisName>().Where(axis => value.Contains(axis.ToString(), StringComparison.Ordinal))] };
        if (name != status.Machine && name != status.Work && name != status.Offset)
            return told;
        if (Numbers(value.Split(',')) is not { } position)
            return told;
        return name == status.Machine ? told with { Machine = position } : name == status.Work ? told with { Work = position } : told with { Offset = position };
    }

    private static MachinePosition? Numbers(string[] parts) =>
        parts.Length >= 3 && Number(parts[0]) is { } x && Number(parts[1]) is { } y && Number(parts[2]) is { } z ? new(x, y, z) : null;

    /// <summary>A number as controllers write it; null where it is none, or farther than any machine of this kind.</summary>
    private static double? Number(string text) =>
        WireNumber.Read(text) is { } value && Math.Abs(value) < 1e6 ? value : null;

    private ImmutableArray<Answer> Settings(string line) =>
        dialect.Settings.Form == SettingsForm.Numbered ? NumberedSetting(line) : WordSettings(line);

    private ImmutableArray<Answer> NumberedSetting(string line)
    {
        var write = dialect.Settings.Write;
        var prefix = write[..write.IndexOf("{key}", StringComparison.Ordinal)];
        var equals = line.IndexOf('=', StringComparison.Ordinal);
        if (!line.StartsWith(prefix, StringComparison.Ordinal) || equals <= prefix.Length)
            return [];
        var key = line[prefix.Length..equals];
        // A description may follow behind a blank.
        return key.All(char.IsAsciiDigit) ? [new Answer.Setting(key, line[(equals + 1)..].Split(' ')[0])] : [];
    }

    private ImmutableArray<Answer> WordSettings(string line)
    {
        var parts = (Begins(words.Remark, line) ?? line).Split(' ', StringSplitOptions.RemoveEmptyEntries);
        if (parts.Length < 2 || !dialect.Settings.Known.Any(one => one.Key.StartsWith(parts[0] + " ", StringComparison.Ordinal)))
            return [];
        return [.. parts.Skip(1).Where(part => char.IsAsciiLetterUpper(part[0]) && Number(part[1..]) is not null)
            .Select(part => new Answer.Setting($"{parts[0]} {part[0]}", part[1..]))];
    }

    private Answer? Letters(string line)
    {
        if (SwitchLine(line) is { } pressed)
            return pressed;
        var found = new Dictionary<char, double>();
        foreach (var part in line.Replace(": ", ":", StringComparison.Ordinal).Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            // The first value of a letter counts: behind it counts of steps may follow under the same letters.
            if (part.Length > 2 && part[1] == ':' && Number(part[2..]) is { } value)
                found.TryAdd(part[0], value);
        }
        return found.TryGetValue('X', out var x) && found.TryGetValue('Y', out var y) && found.TryGetValue('Z', out var z)
            ? new Answer.Status { Machine = new(x, y, z) } : null;
    }

    private Answer.Switch? SwitchLine(string line)
    {
        var colon = line.IndexOf(':', StringComparison.Ordinal);
        if (colon < 2 || line[1] != '_' || status.Pressed.IsEmpty)
            return null;
        var axis = "xyz".IndexOf(char.ToLowerInvariant(line[0]), StringComparison.Ordinal);
        return axis < 0 ? null : new Answer.Switch((AxisName)axis, status.Pressed.Contains(line[(colon + 1)..].Trim()));
    }
}
