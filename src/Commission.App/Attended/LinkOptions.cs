using System.CommandLine;
using System.Globalization;
using Commission.App.CommandLine;
using Commission.Core;
using Commission.Core.Machines.Dialects;
using Commission.Core.Quantities;
using Commission.Workshop.Requests;

namespace Commission.App.Attended;

/// <summary>The options that name a controller.</summary>
internal sealed class LinkOptions
{
    private const double UsualLongestS = 10;

    private readonly Option<string?> port = new("--port") { Description = "The port; controller ports lists what is there", HelpName = "PORT" };
    private readonly Option<string?> dialect = Common.Offering(new Option<string?>("--dialect") { Description = "Name of a shipped dialect, or a file ending in .yaml", HelpName = "NAME" }, () => ShippedDialects.Names);
    private readonly Option<string?> baud = new("--baud") { Description = "Speed in bits per second; omitted: that of the dialect", HelpName = "N" };
    private readonly Option<string?> longest = new("--timeout") { Description = "Seconds to wait at most for the controller to answer", HelpName = "S" };
    private readonly Option<bool> noLines = new("--no-control-lines") { Description = "Do not raise the control lines of the port; many boards restart by them" };
    private readonly Option<string?> record = new("--record") { Description = "Write the dialogue as a test script", HelpName = "FILE" };

    /// <summary>Puts the options to a command.</summary>
    public Command On(Command command)
    {
        foreach (var option in new Option[] { port, dialect, baud, longest, noLines, record })
            command.Add(option);
        return command;
    }

    /// <summary>Whether a port is named.</summary>
    public bool Named(ParseResult parsed) => parsed.GetValue(port) is not null;

    /// <summary>What was named.</summary>
    public Outcome<LinkRequest> Read(ParseResult parsed)
    {
        if (parsed.GetValue(port) is not { } name)
            return new Problem("no port is named", "Name one with --port; controller ports lists what is there");
        if (parsed.GetValue(dialect) is not { } spoken)
            return new Problem("no dialect is named", "Name one with --dialect: numbered-settings, letter-words, or a file of your own");
        var speed = Whole(parsed.GetValue(baud));
        if (parsed.GetValue(baud) is { } typed && speed is null)
            return new Problem($"--baud \"{Words.Clean(typed)}\" is no speed of a port", "Give a whole number such as 115200");
        return Seconds(parsed.GetValue(longest), "--timeout").Then<LinkRequest>(limit => new LinkRequest(
            new ControllerAddress(name, spoken, speed, parsed.GetValue(record)) { ControlLines = !parsed.GetValue(noLines) }, TimeSpan.FromSeconds(limit ?? UsualLongestS)));
    }

    /// <summary>A number of seconds; null where none was given.</summary>
    public static Outcome<double?> Seconds(string? typed, string option)
    {
        if (typed is null)
            return (double?)null;
        return double.TryParse(typed, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value) && value is > 0 and <= 86_400
            ? value
            : new Problem($"{option} \"{Words.Clean(typed)}\" is no number of seconds", "Give a positive number such as 10");
    }

    private static int? Whole(string? typed) =>
        int.TryParse(typed, NumberStyles.None, CultureInfo.InvariantCulture, out var value) && value is >= 300 and <= 4_000_000 ? value : null;
}

/// <summary>A controller named, and how long to wait for it.</summary>
/// <param name="Address">The controller.</param>
/// <param name="Longest">How long an answer may take.</param>
internal sealed record LinkRequest(ControllerAddress Address, TimeSpan Longest);
