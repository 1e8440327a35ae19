namespace Commission.Proof.Link;

/// <summary>
/// <c>link-faults [--short] [--seeds N] [--only FAULT]</c>, <c>link-fuzz [--short] [--seed N]</c>, <c>link-speed [--short] [--load N]</c>.
/// </summary>
internal static class LinkCommands
{
    /// <summary>Runs the command named.</summary>
    /// <returns>Its exit code; null where none of these is named.</returns>
    internal static int? Run(string[] args)
    {
        var brief = args.Contains("--short");
        string? After(string name) => Array.IndexOf(args, name) is var at and >= 0 && at + 1 < args.Length ? args[at + 1] : null;
        int? Whole(string name) => After(name) is { } typed ? int.Parse(typed, CultureInfo.InvariantCulture) : null;
        return args switch
        {
            ["link-faults", ..] => LinkFaultsCommand.Run(brief, Whole("--seeds"), After("--only") is { } fault ? Enum.Parse<LinkFault>(fault) : null),
            ["link-fuzz", ..] => LinkFuzzCommand.Run(brief, Whole("--seed") ?? 20261125),
            ["link-speed", ..] when !OperatingSystem.IsWindows() => LinkSpeedCommand.Run(brief, Whole("--load") ?? 0),
            [LinkSpeedCommand.LoadWord] when !OperatingSystem.IsWindows() => LinkSpeedCommand.Load(),
            [var word, var dialect] when !OperatingSystem.IsWindows() && word == LinkSpeedCommand.BoardWord => LinkSpeedCommand.Board(dialect),
            _ => null,
        };
    }
}
