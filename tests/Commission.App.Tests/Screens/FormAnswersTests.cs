using Commission.Adapters.Files;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>An answer of a form that was refused or is asked about is typed over by the first character, as in the cells of readings; Backspace edits it.</summary>
public sealed class FormAnswersTests : MemoryScreens
{
    public FormAnswersTests()
        : base(StoreNature.Real)
    {
    }

    // Found in use: "3.5", asked about, and "3.5" again made 3.53.5.
    [Fact]
    public void Set_up_types_over_what_it_asked_about_and_over_what_it_refused()
    {
        using var window = On(PracticeStore.Options(Journal));
        window.Type("\nEgret\n420\n580\n4belt\n3.5\n");
        Assert.Contains("A slip? Enter once more keeps it", window.Said, StringComparison.Ordinal);
        window.Type("9");
        Assert.Contains("[ 9_", window.Text, StringComparison.Ordinal);
        window.Press(Key.Backspace);
        window.Type("4.5\n");
        window.Press(Key.Backspace);
        Assert.Contains("[ 4._", window.Text, StringComparison.Ordinal);
    }

    // Found in use: nonsense for the second day was refused at the fourth question, three answers back.
    [Theory]
    [InlineData("april\n", 1, "\"april\" is not a date")]
    [InlineData("\nbks\n", 2, "\"bks\" is not a date")]
    [InlineData("\n\nx3\n", 3, "\"x3\" is not the number of an entry")]
    public void What_no_report_can_hold_for_is_refused_at_its_own_question(string typed, int question, string why)
    {
        using var window = Described();
        window.Type("m\n");
        window.PressUntil(Key.CursorDown, ">> Report of a day or session");
        window.Press(Key.Enter);
        window.Type(typed);
        Assert.Contains(why, window.Said, StringComparison.Ordinal);
        Assert.Contains($"question {question} of 4", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void A_fact_that_was_refused_is_typed_over_and_unknown_is_an_answer()
    {
        using var window = Described();
        window.Type("ma");
        window.PressUntil(Key.CursorDown, ">> grade ");
        window.Type("\n7.5\n");
        Assert.Contains("7.5 is no grade of a screw", window.Text, StringComparison.Ordinal);
        window.Type("7\n");
        Assert.Equal(7, Machine.X.Grade);
        // Found in use: the very word that the list shows was refused.
        window.Type("\nunknown\n");
        Assert.Contains("corrected. U undoes it.", window.Said, StringComparison.Ordinal);
        Assert.Null(Machine.X.Grade);
        window.PressUntil(Key.CursorUp, ">> travel per turn");
        window.Type("\nunknown\n");
        Assert.Null(Machine.Z.TravelPerTurnMm);
        window.Type("\nmany\n5\n");
        Assert.Equal(5, Machine.Z.TravelPerTurnMm);
    }

    [Fact]
    public void A_limit_of_error_far_from_its_like_is_asked_about_A_takes_what_was_meant_and_O_keeps_it()
    {
        using var window = Described();
        window.Type("ka\n\n0.3\n");
        Assert.StartsWith("NEXT >> Enter answers anew. A takes 0.03 mm. O keeps 0.3.", window.Rows[20], StringComparison.Ordinal);
        Assert.Contains("A limit of error of 0.3 mm is far above that of its like: 0.03 mm. A slip?", window.Text, StringComparison.Ordinal);
        Assert.StartsWith(" Enter anew   A 0.03 mm   O as typed", window.Rows[23], StringComparison.Ordinal);
        // What is typed at the question takes the place of what is asked about.
        window.Type("0");
        Assert.Contains("[ 0_", window.Text, StringComparison.Ordinal);
        window.Type(".3\nr");
        Assert.Contains("[ _", window.Text, StringComparison.Ordinal);
        window.Type("0.3\na");
        Assert.Contains("What is its last digit?", window.Text, StringComparison.Ordinal);
        window.Type("0.1\n");
        Assert.Contains("A last digit of 0.1 mm is far above that of its like: 0.01 mm. A slip?", window.Text, StringComparison.Ordinal);
        window.Type("o\n\n");
        var kept = Ledger.Instruments["caliper-150"].Body.Description;
        Assert.Equal((0.03, 0.1), (kept.LimitMm, kept.ResolutionMm));
    }

    // Found in use: the slip of one reading was told after the last one, and not which it was.
    [Fact]
    public void A_reading_far_from_its_block_is_asked_about_when_it_is_typed()
    {
        using var window = Described();
        window.Type("ka\n\n\n\n\n\n");
        window.Type("v\n\n125.02\n12.502\n");
        Assert.Contains("12.502 mm lies 112.5 mm from the block of 125 mm. A slip?", window.Text, StringComparison.Ordinal);
        Assert.StartsWith("NEXT >> Enter answers anew. A takes 125.02 mm. O keeps 12.502.", window.Rows[20], StringComparison.Ordinal);
        window.Type("a125.03\n\n");
        Assert.Contains("Its error there is +0.023", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_limit_that_is_no_number_is_refused_at_its_own_question()
    {
        using var window = Described();
        window.Type("ka\n\nabout 0.03\n");
        Assert.Contains("is not a number", window.Said, StringComparison.Ordinal);
        Assert.Contains("What is its limit of error?", window.Text, StringComparison.Ordinal);
        window.Type("0.02\n\n\n\n");
        Assert.Equal(0.02, Ledger.Instruments["caliper-150"].Body.Description.LimitMm);
    }

    private Machine Machine => Ledger.Machines["Heron"].Description;

    private Headless Described()
    {
        var axis = new AxisDescription { Drive = DriveKind.Screw, TravelPerTurnMm = 5, StepsPerMm = 320 };
        Journal.Append(new EntryBody.MachineDescribed(new Machine { Name = "Heron", TravelMm = [420, 580, 90], X = axis, Y = axis, Z = axis }, Retired: false) { Machine = "Heron" }).Require();
        return On(PracticeStore.Options(Journal) with { Files = new TextFiles() });
    }
}
