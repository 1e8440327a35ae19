using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Instruments;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Tests;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Pages;
using Commission.Workshop.Tests.Sessions;

namespace Commission.Workshop.Tests.Screens.Pages;

/// <summary>The drawing of a finding says no more than the finding knows.</summary>
public sealed class FindingSketchTests
{
    // Found by use: a machine square within its uncertainty was drawn leaning, with "+X is ahead" beside it.
    [Theory]
    [InlineData(0.2, true, "drawn far more crooked", "square within U: no end is ahead", "D - - -")]
    [InlineData(4, true, "drawn far more crooked", "at A under 90 deg: +X is ahead", "         D - - -")]
    [InlineData(-4, true, "drawn far more crooked", "at A over 90 deg: +X lags", "  D - - -")]
    [InlineData(4, false, "drawn far more crooked", "no U: which end is ahead is open", "         D - - -")]
    public void Which_end_is_ahead_is_told_only_beyond_the_uncertainty(double mradTimesTwo, bool known, string drawn, string words, string top)
    {
        var text = Drawn(mradTimesTwo / 2000, known ? SessionScene.Tape : null);
        var within = words.StartsWith("square", StringComparison.Ordinal);
        Assert.Contains(words, text, StringComparison.Ordinal);
        Assert.Contains(top, text, StringComparison.Ordinal);
        Assert.Equal(!within, text.Contains(drawn, StringComparison.Ordinal));
        if (within || !known)
            Assert.DoesNotContain("+X", text.Split(" ^ origin")[0], StringComparison.Ordinal);
    }

    private static string Drawn(double shear, Instrument? instrument)
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "diagonals", null, instrument);
        Answers.UntilReading(session);
        while (session.Needs is Need.TakeReading need)
        {
            var at = need.Cell.Given;
            var (dx, dy) = (at["x2_mm"] - at["x1_mm"], at["y2_mm"] - at["y1_mm"]);
            var mm = Math.Round(Math.Sqrt((dx * dx) + (dy * dy) + (2 * dx * dy * Math.Sin(shear))) * 2) / 2;
            session.Read(mm.ToString("F1", CultureInfo.InvariantCulture), mm).Require();
            while (session.Needs is Need.SlipQuestion)
                Answers.Usual(session);
        }

        Assert.NotNull(session.Evaluate().Require());
        var made = journal.Entries().Select(entry => entry.Body).OfType<EntryBody.FindingMade>().Single();
        Assert.Equal(instrument is null, made.Finding.Headline.ExpandedUncertainty is null);
        return string.Join('\n', FindingSketch.Drawn(new Sheet { Path = "", Next = "", Because = "" }, made, Ledger.From(journal.Entries()), ShownUnits.Millimetres).Body.Select(line => line.Text));
    }
}
