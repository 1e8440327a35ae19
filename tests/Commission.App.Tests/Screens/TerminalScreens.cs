using System.Text.RegularExpressions;
using Commission.Adapters.Storage;
using Commission.Tests;

namespace Commission.App.Tests.Screens;

/// <summary>Stories by keys in a real terminal at 80 by 24, on a store in a folder: whoever is at the keys looks at what is shown and answers that, however long it takes to come.</summary>
public abstract partial class TerminalScreens : OwnFolder
{
    private protected string Store => Path.Combine(Folder, "store");

    private protected List<JournalEntry> Entries(StoreNature nature)
    {
        using var journal = new Stores("test", TimeProvider.System).Open(Store, nature, write: false).Require();
        return [.. journal.Entries()];
    }

    /// <summary>From any place to the route card of the scale of an axis.</summary>
    private protected static void ToScaleOf(AxisName axis, Tmux terminal)
    {
        terminal.Keys("w");
        while (!Regex.IsMatch(terminal.Screen, $">> Axis scale with a caliper +{axis}"))
            terminal.Keys("Down");
        terminal.Keys("Enter");
    }

    /// <summary>What a person presses where no number is asked for; a link that fell silent on a busy computer is read like any other stop.</summary>
    private protected static string KeyFor(string screen) => screen switch
    {
        _ when screen.Contains("until A, S or O is pressed", StringComparison.Ordinal) => "a",
        _ when screen.Contains("A slip?", StringComparison.Ordinal) => "o",
        _ when screen.Contains("S read, by me", StringComparison.Ordinal) || screen.Contains("S means", StringComparison.Ordinal) => "s",
        _ => "Enter",
    };

    /// <summary>The letter that the box on a screen waits for.</summary>
    [GeneratedRegex(@"Press ([XYZHU]) to \w+")]
    private protected static partial Regex Box();

    /// <summary>Where a reading is asked for.</summary>
    [GeneratedRegex(@"reading \d+ of \d+ \.")]
    private protected static partial Regex Count();
}
