using Commission.Adapters.Files;
using Commission.Core.Procedures;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>An owner without a link, on the screens: every line that plain mode shows stands there at the same moment, and what is for a file goes into one.</summary>
public sealed class LinesToCopyTests : RealStore
{
    [Fact]
    public void Lines_for_a_cutting_step_are_read_on_the_screen_and_written_into_a_file()
    {
        using var window = Open("surfacing", LengthUnit.Millimetre);
        To(window, "D lines");
        Assert.True(window.Text.Contains("surface-board.txt, ", StringComparison.Ordinal), window.Text);
        window.Type("d");
        Assert.Contains("\n G21 G90 G17 G94", window.Text, StringComparison.Ordinal);
        window.Type("a");
        window.Press(Key.Backspace);
        window.Type(Folder + "\n");
        Assert.StartsWith("Written to ", window.Rows[21].Trim(), StringComparison.Ordinal);
        var lines = File.ReadAllLines(Assert.Single(Directory.GetFiles(Folder)));
        Assert.Equal("G21 G90 G17 G94", lines[0]);
        Assert.All(lines, line => Assert.Matches("^G[0-3]", line));
    }

    [Fact]
    public void Numbers_reckoned_before_anything_moves_stand_on_the_screen()
    {
        using var window = Open("nominal-steps", LengthUnit.Millimetre);
        To(window, "Steps per mm of X by arithmetic");
        Assert.Matches("by arithmetic: [0-9.]+, exact", window.Text);
    }

    [Theory]
    [InlineData(LengthUnit.Millimetre, @" to copy  G21 G90 G1 X[0-9.]+ F600   then   G21 G90 G1 X[0-9.]+ F600")]
    [InlineData(LengthUnit.Inch, @" to copy  G20 G90 G1 X[0-9.]+ F23\.6   then   G20 G90 G1 X[0-9.]+ F23\.6")]
    public void Every_reading_has_the_lines_that_lead_there(LengthUnit units, string lines)
    {
        using var window = Open("axis-scale", units);
        To(window, "reading 1 of 10");
        Assert.Matches(lines, window.Text);
    }

    [Theory]
    [InlineData(LengthUnit.Millimetre, "to copy: G21 G91 G1 X-2 F300", "to copy: G21 G90 G1 Z84 F600")]
    [InlineData(LengthUnit.Inch, "to copy: G20 G91 G1 X-0.0787 F11.8", "to copy: G20 G90 G1 Z3.3071 F23.6")]
    public void A_move_that_the_owner_commands_has_its_line_beside_it(LengthUnit units, string by, string to)
    {
        using var window = Open("own", units, own: """
            format: commission.procedure/1
            id: own
            title: Own
            purpose: Moves.
            minutes: 1
            hazards: [{what: It moves., do: Hands out.}]
            steps:
              - move:
                  text: Away from the stop.
                  moves: [{axis: X, by: -2, feed: 300}, {axis: Z, to: 84, feed: 600}]
            evaluation: [None.]
            abort: [A noise.]
            goodData: [It moved.]
            slips: [None.]
            """);
        To(window, "S moves made");
        Assert.Contains(by, window.Text, StringComparison.Ordinal);
        Assert.Contains(to, window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_correction_is_told_with_all_digits_that_the_controller_keeps_in_its_own_unit()
    {
        using var window = Open("axis-scale", LengthUnit.Inch, setting: RatioSetting.StepsPerInch);
        To(window, "reading 1 of 10");
        // The caliper measures from a stop at 130 mm; the hand scatters.
        double[] hand = [0.0005, -0.0005, 0.0005, 0, -0.001, 0.0005];
        for (var i = 0; window.Text.Contains("] in", StringComparison.Ordinal) && i < 40; i++)
        {
            var at = double.Parse(System.Text.RegularExpressions.Regex.Matches(window.Text, @"G1 X([0-9.]+) ")[^1].Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture);
            window.Type(((at * 1.0016) - (130 / 25.4) + hand[i % hand.Length]).ToString("F4", System.Globalization.CultureInfo.InvariantCulture) + "\n");
            if (window.Text.Contains("A slip?", StringComparison.Ordinal))
                window.Type("o");
        }

        To(window, "Setting   steps per inch");
        Assert.Matches(@"steps per inch, X +now 8128\.000 +proposed +811[0-9]\.", window.Text);
        window.Type("8111\n");
        var written = Ledger.SettingsWritten.Single().Body;
        Assert.Equal(("stepsPerInch", 8111.0, "told"), (written.Name, written.After, written.Stage));
        Assert.Equal(8111 / 25.4, Ledger.Machines["Egret"].Description.X.StepsPerMm!.Value, 9);
    }

    private Headless Open(string procedure, LengthUnit units, RatioSetting setting = RatioSetting.StepsPerMm, string? own = null)
    {
        var axis = new AxisDescription { Drive = setting == RatioSetting.StepsPerInch ? DriveKind.Unknown : DriveKind.Screw, TravelPerTurnMm = setting == RatioSetting.StepsPerInch ? null : 5, StepsPerMm = 320, StepAngleDeg = 1.8, Microsteps = 8, Setting = setting, Motors = 1, Switches = Switches.Home };
        Store.Append(new EntryBody.MachineDescribed(new Machine { Name = "Egret", Units = units, TravelMm = [420, 580, 90], Class = WorkClass.Plastics, Spindle = SpindleKind.RouterWithDial, X = axis, Y = axis, Z = axis }, Retired: false) { Machine = "Egret" }).Require();
        Store.Append(new EntryBody.InstrumentDescribed(Core.Instruments.InstrumentCatalogue.Find("caliper-150")!, Retired: false)).Require();
        var window = On(PracticeStore.Options(Store) with { Files = new TextFiles(), Procedures = own is null ? PracticeStore.Shipped(procedure) : [ProcedureReader.Read("own.yaml", own).Require()] });
        window.Type("w\n");
        return window;
    }

    // What a person does until something is shown: hazards and statements with S, numbers typed, the rest with Enter.
    private static void To(Headless window, string shown)
    {
        for (var i = 0; i < 80 && !window.Text.Contains(shown, StringComparison.Ordinal); i++)
        {
            if (window.Text.Contains("A slip?", StringComparison.Ordinal))
                window.Type("o");
            else if (window.Text.Contains("Type the number", StringComparison.Ordinal))
                window.Type(Story.Within(window.Rows[21]) + "\n");
            else
                window.Type(System.Text.RegularExpressions.Regex.IsMatch(window.Text, @"\bS (begin|all read|it is so|moves made|read)|S means") ? "s" : "\n");
        }

        Assert.True(window.Text.Contains(shown, StringComparison.Ordinal), window.Text);
    }
}
