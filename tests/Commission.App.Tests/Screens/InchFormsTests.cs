using Commission.Adapters.Files;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>Set-up, facts, kit and log of an owner who works in inches: asked, shown and typed in inches, kept in millimetres.</summary>
public sealed class InchFormsTests : MemoryScreens
{
    private const string Name = "Egret";

    public InchFormsTests()
        : base(StoreNature.Real)
    {
    }

    private Machine Machine => Ledger.Machines[Name].Description;

    [Fact]
    public void Who_types_an_inch_at_the_first_length_is_asked_in_inches_from_there_on()
    {
        using var window = Open();
        window.Type("\n" + Name + "\n");
        Assert.Contains("Do you work in inches?", window.Text, StringComparison.Ordinal);
        window.Type("16 1/2 in\n");
        Assert.Contains("] in", window.Text, StringComparison.Ordinal);
        window.Type("22,75\n3 1/2\n");
        window.Type("\n\n");
        Assert.Contains("in one turn", window.Text, StringComparison.Ordinal);
        Assert.Contains("] in", window.Text, StringComparison.Ordinal);
        window.Type("1/5\n0.2\nno\n");
        Assert.Contains("or a fraction as 3 1/8, or nothing.", window.Said, StringComparison.Ordinal);
        window.Press(Key.Backspace, Key.Backspace, Key.Enter);
        window.Type("\n\n");
        Assert.Contains("steps per mm or steps per inch?", window.Text, StringComparison.Ordinal);
        window.Press(Key.CursorDown, Key.Enter);
        Assert.Contains("for one inch of X now?", window.Text, StringComparison.Ordinal);
        Assert.Contains("] steps/in", window.Text, StringComparison.Ordinal);
        window.Type("8128\n8128\n\n\n");
        Assert.StartsWith(" Egret / bench", window.Rows[0], StringComparison.Ordinal);
        Assert.Equal(LengthUnit.Inch, Machine.Units);
        Assert.Equal([16.5 * 25.4, 22.75 * 25.4, 3.5 * 25.4], Machine.TravelMm);
        Assert.Equal((5.08, 5.08, (double?)null), (Math.Round(Machine.X.TravelPerTurnMm!.Value, 9), Math.Round(Machine.Y.TravelPerTurnMm!.Value, 9), Machine.Z.TravelPerTurnMm));
        Assert.Equal((RatioSetting.StepsPerInch, 320.0), (Machine.X.Setting, Math.Round(Machine.X.StepsPerMm!.Value, 9)));
    }

    [Fact]
    public void Who_types_millimetres_is_never_asked_about_inches()
    {
        using var window = Open();
        window.Type("\n" + Name + "\n420\n580\n90\n\n\n5\n\n\n\n\n320\n");
        Assert.Contains("for one mm of Y now?", window.Text, StringComparison.Ordinal);
        Assert.Contains("] steps/mm", window.Text, StringComparison.Ordinal);
    }

    // 5 mm stands there as 0.19685 in: sent back untouched it stays 5 mm to the last bit.
    [Fact]
    public void A_fact_is_shown_corrected_and_left_alone_in_inches()
    {
        Describe(setting: RatioSetting.StepsPerInch);
        using var window = Open();
        window.Type("m");
        Assert.Contains("travel, in           16.53543", window.Text, StringComparison.Ordinal);
        Assert.Contains("steps per inch       8128", window.Text, StringComparison.Ordinal);
        window.Type("a\n");
        Assert.Contains("[ 16.53543_", window.Text, StringComparison.Ordinal);
        Assert.Contains("] in", window.Text, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Equal(420, Machine.TravelMm[0]);
        Correct(window, "16.53543", "16 1/2\n");
        Assert.Equal(419.1, Machine.TravelMm[0], 9);
        window.PressUntil(Key.CursorDown, ">> travel per turn ");
        window.Press(Key.Enter, Key.Enter);
        Assert.Equal(5, Machine.X.TravelPerTurnMm);
        Correct(window, "0.19685", "1/5\n");
        Assert.Equal(5.08, Machine.X.TravelPerTurnMm!.Value, 9);
        window.PressUntil(Key.CursorDown, ">> steps per inch ");
        Correct(window, "8128", "8115.2\n");
        Assert.Equal(8115.2 / 25.4, Machine.X.StepsPerMm!.Value, 9);
    }

    [Fact]
    public void An_instrument_is_offered_in_inches_kept_as_the_catalogue_has_it_and_may_have_no_known_limit()
    {
        Describe();
        using var window = Open();
        window.Type("ka");
        Assert.DoesNotContain(" mm", Rest(window), StringComparison.Ordinal);
        window.Press(Key.Enter);
        window.Type("\n");
        Assert.Contains("What is its limit of error?", window.Text, StringComparison.Ordinal);
        Assert.Contains("] in", window.Text, StringComparison.Ordinal);
        window.Type("\n");
        // Found in use: 0.00039 in was offered, the millimetres of the catalogue counted in inches.
        Assert.Contains("[ 0.0005_", window.Text, StringComparison.Ordinal);
        window.Type("\n\nyes\n");
        Assert.True(Ledger.Instruments["caliper-150"].Body.Description.TypesByCable);
        var instrument = Ledger.Instruments["caliper-150"].Body.Description;
        Assert.Equal((0.03, 0.0127), (instrument.LimitMm!.Value, Math.Round(instrument.ResolutionMm!.Value, 9)));
        // A caliper of 150 mm is one of six inches.
        Assert.Equal(152.4, instrument.RangeMm!.Value, 9);
        Assert.Contains("0.0005 in", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(" mm", window.Text, StringComparison.Ordinal);
        window.Type("a\n");
        window.Erase();
        window.Type("flea market\n");
        window.Erase();
        window.Type("\n\n\nperhaps\n");
        Assert.Contains("Yes or no.", window.Said, StringComparison.Ordinal);
        window.Erase();
        window.Type("no\n");
        Assert.Null(Ledger.Instruments["flea market"].Body.Description.LimitMm);
    }

    [Fact]
    public void An_opened_entry_of_the_log_is_told_in_inches()
    {
        Describe();
        var begun = Journal.Append(new EntryBody.RunStarted { Machine = Name, Procedure = "axis-scale", ProcedureHash = "h", Axis = "X" }).Require();
        Journal.Append(new EntryBody.ReadingTaken
        {
            Machine = Name, Run = begun.Sequence, Recorded = 1, Step = "scale", Cell = 0, Place = "near", Typed = "1.0005", Value = 25.4127, Unit = "mm", Instrument = "caliper-150",
            Given = System.Collections.Immutable.ImmutableSortedDictionary<string, double>.Empty.Add("commanded_mm", 12.7),
        }).Require();
        using var window = Open();
        window.Press(Key.Esc);
        window.Type("l\n");
        Assert.Contains("typed \"1.0005\", understood as 1.0005 in", window.Text, StringComparison.Ordinal);
        Assert.Contains("commanded_in 0.5", window.Text, StringComparison.Ordinal);
        Assert.DoesNotMatch(@"\bmm\b|_mm", window.Text);
        window.Press(Key.Esc, Key.CursorDown, Key.CursorDown, Key.Enter);
        Assert.Contains("travel, in: [16.535433, 22.834646, 3.543307]", window.Text, StringComparison.Ordinal);
    }

    private void Describe(RatioSetting setting = RatioSetting.Unknown)
    {
        var axis = new AxisDescription { Drive = DriveKind.Screw, TravelPerTurnMm = 5, StepsPerMm = 320, Setting = setting };
        Journal.Append(new EntryBody.MachineDescribed(new Machine { Name = Name, Units = LengthUnit.Inch, TravelMm = [420, 580, 90], X = axis, Y = axis, Z = axis }, Retired: false) { Machine = Name }).Require();
    }

    private Headless Open() => On(PracticeStore.Options(Journal) with { Files = new TextFiles() });

    private static void Correct(Headless window, string now, string typed)
    {
        window.Press(Key.Enter);
        Assert.Contains($"[ {now}_", window.Text, StringComparison.Ordinal);
        window.Erase();
        window.Type(typed);
    }

    // A length in a catalogue row's own title is a name.
    private static string Rest(Headless window) => string.Join('\n', window.Rows.Skip(3).Take(13).Select(row => row.Length > 57 ? row[57..] : ""));
}
