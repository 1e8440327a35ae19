using System.Globalization;

namespace Commission.App.Tests.Screens;

/// <summary>A finding that asks for a reading to be taken again offers just that, and leaving it out.</summary>
public sealed class DoubtedFindingTests : KnownScreens
{
    [Fact]
    public void R_leads_to_the_route_card_and_E_makes_the_finding_of_the_rest()
    {
        using var window = ToFinding();
        Assert.Contains("NEXT >> Look at reading 7 first", window.Text, StringComparison.Ordinal);
        Assert.StartsWith(" Enter route card  R take again  E leave it out", window.Rows[23], StringComparison.Ordinal);
        window.Type("e");
        Assert.Contains("Why is reading 7 left out?", window.Text, StringComparison.Ordinal);
        window.Type("\n");
        Assert.Single(Ledger.Findings);
        window.Type("jaw slipped\n");
        Assert.Contains("Reading 7 is left out; this is the finding of the rest.", window.Said, StringComparison.Ordinal);
        Assert.Contains("9 of 10 readings", window.Rows[0], StringComparison.Ordinal);
        Assert.DoesNotContain("R take again", window.Rows[23], StringComparison.Ordinal);
        Assert.Equal([10, 9], Ledger.Findings.Values.Select(finding => finding.Made.Body.Finding.Used));
        Assert.Equal(Ledger.Findings.Values.Last().Made.Sequence, Ledger.FindingsInForce("Heron").Single().Sequence);
    }

    [Fact]
    public void R_on_the_finding_opens_the_card_of_its_procedure_for_a_new_run()
    {
        using var window = ToFinding();
        window.Type("r");
        Assert.Contains("Heron / work / scale X", window.Rows[0], StringComparison.Ordinal);
        Assert.StartsWith(" S start", window.Rows[23], StringComparison.Ordinal);
        Assert.Contains("A new run reads its plan anew", window.Said, StringComparison.Ordinal);
    }

    // The seventh reading is a millimetre off and kept as it is.
    private Headless ToFinding() => ToFinding(Open(), () => Ledger);

    internal static Headless ToFinding(Headless window, Func<Ledger> ledger)
    {
        window.Type("\ns\ns");
        Story.Read(window, 6);
        window.Type((double.Parse(Story.Look(window), CultureInfo.InvariantCulture) + 1).ToString("F2", CultureInfo.InvariantCulture) + "\no");
        Story.Read(window, 3);
        for (var i = 0; i < 5 && ledger().Findings.Count == 0; i++)
            window.Type("s");
        return window;
    }
}
