using System.Globalization;
using Commission.Core.Procedures;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Pages;
using Microsoft.Extensions.Time.Testing;

namespace Commission.App.Tests.Screens;

/// <summary>Whatever keys are pressed in whatever order, a sheet stands there that fits its window, and the journal folds to the machine.</summary>
public sealed class AnyKeysTests
{
    private const int KeysEach = 120;

    private static readonly string[] Lists = ["/ log", "/ findings", "/ work", "/ kit", "/ trend", "/ leave a reading out"];

    // Work done up to the scale, a year of it, and a finding that says change.
    private static readonly Action<MemoryJournal, FakeTimeProvider>[] Pasts =
    [
        (journal, clock) => KnownMachine.Fill(journal, clock, KnownMachine.Seed), StoredPractice.YearOfRechecks, StoredPractice.ScaleToChange,
    ];

    public static TheoryData<int> Seeds => [.. Enumerable.Range(1, Count)];

    private static int Count => int.TryParse(Environment.GetEnvironmentVariable("COMMISSION_KEY_SEEDS"), CultureInfo.InvariantCulture, out var many) ? many : 3;

    [Theory]
    [MemberData(nameof(Seeds))]
    public void No_order_of_keys_leaves_the_screens_without_a_sheet(int seed)
    {
        var draw = new Random(seed);
        var clock = KnownMachine.Clock();
        using var journal = PracticeStore.Journal(clock);
        Pasts[seed % Pasts.Length](journal, clock);
        if (seed % 2 == 0)
            KnownMachine.InInches(journal);
        var options = KnownMachine.Options(journal) with { Procedures = PracticeStore.All() };
        var desk = ScreenProgram.DeskOf(options, clock);
        var keys = new PressedKeys();
        var pressed = new List<string>();

        for (var i = 0; i < KeysEach; i++)
        {
            var name = Next(desk, draw);
            pressed.Add(name);
            try
            {
                foreach (var key in name[0] is '\'' or '~' ? name[1..].Select(one => one.ToString()).Concat(name[0] == '~' ? ["Enter"] : []) : [name])
                    keys.Press(desk, key);

                if (desk.Left)
                    desk = ScreenProgram.DeskOf(options, clock);
                Fits(desk.Show(80, 24), 80);
                Fits(desk.Show(120, 40), 120);
            }
            catch (Exception failure)
            {
                Assert.Fail($"after {string.Join(' ', pressed.TakeLast(40))}: {failure}");
            }
        }

        Assert.NotEmpty(Ledger.From(journal.Entries()).Machines);
    }

    private static void Fits(Sheet sheet, int width)
    {
        // Lists are looked through: their lines may end early, marked by two points.
        foreach (var line in Lists.Any(end => sheet.Path.EndsWith(end, StringComparison.Ordinal)) ? [] : sheet.Body)
            Assert.True(line.Text.TrimEnd().Length <= width, $"{sheet.Path}: {line.Text}");
        Assert.True(sheet.Next.Length <= width - 8, $"{sheet.Path}: {sheet.Next}");
        Assert.DoesNotContain("A defect of the program", sheet.Message ?? "", StringComparison.Ordinal);
    }

    private static string Next(Desk desk, Random draw)
    {
        var dice = draw.Next(100);
        var named = desk.Show(80, 24).Keys.Where(key => key.NotNow is null && key.Action is not "connect").SelectMany(key => key.Key.Split(", ")).Where(key => key.Length == 1 || PressedKeys.Named.ContainsKey(key)).ToList();
        if (desk.Running is { Session.Run.Needs: Need.TakeReading read } run && desk.Scene.Cell && dice < 60)
        {
            var shown = desk.Means.Look!(run.Session, read);
            return "~" + (double.TryParse(shown, CultureInfo.InvariantCulture, out var mm) && read.Unit == "mm" ? run.Session.Run.AsTyped(dice < 5 ? (mm * 10) + 1 : mm) : shown);
        }

        if (desk.Scene.Cell && dice < 75)
            return draw.Next(2) == 0 ? "Enter" : "'" + draw.Next(1, 500).ToString(CultureInfo.InvariantCulture);
        if (desk.Scene.TextField && dice < 40)
            return "'some text 12";
        return dice switch
        {
            < 70 when named.Count > 0 => named[draw.Next(named.Count)],
            < 85 => "Enter",
            < 95 => ((char)('a' + draw.Next(26))).ToString(),
            _ => PressedKeys.Named.Keys.ElementAt(draw.Next(PressedKeys.Named.Count)),
        };
    }
}
