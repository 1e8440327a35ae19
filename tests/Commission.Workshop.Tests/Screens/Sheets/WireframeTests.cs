using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Tests.Screens.Sheets;

/// <summary>The sheets against the exact texts of the interaction design. Numbers are those of its invented router Heron.</summary>
public class WireframeTests
{
    private static readonly LiveStrip Linked = new("link rest . cmd X 144.200  Y  40.000  Z  -5.000 . position trusted", Stops: true);
    private static readonly LiveStrip Hidden = new("link rest . cmd X 144.200  Y  hidden   Z  -5.000 . position trusted", Stops: true);
    private static readonly LiveStrip At204 = new("link rest . cmd X 144.200  Y 204.200  Z  -5.000 . position trusted", Stops: true);

    [Fact]
    public void S01_the_first_start() => Same("S01-first-start", FirstStartSheet.Of());

    [Fact]
    public void S02_the_bench_of_a_new_machine() => Same("S02-bench-new", BenchSheet.Of(
        new BenchView
        {
            Machine = "Heron", Right = "Sat 4 Apr 2026",
            Rows =
            [
                new BenchRow("power-up list", BarStuff.Never) { Value = "0/33", Uncertainty = "", Limit = "33" },
                Never("homing, worst", "0.030", "mm", false), Never("lost motion X", "0.080", "mm", false), Never("lost motion Y", "0.080", "mm", false),
                Never("lost motion Z", "0.080", "mm", false), Never("scale X", "500", "ppm", true), Never("scale Y", "500", "ppm", true),
                Never("scale Z", "500", "ppm", true), Never("squareness XY", "0.50", "mrad", true), Never("tram, 200 mm", "0.050", "mm", false),
                Never("bed map", "0.150", "mm", false), Never("Z to bed", "0.50", "mrad", true), Never("runout, 20 mm", "0.050", "mm", false),
                new BenchRow("test cut", BarStuff.Never), Never("false trips", "0.12", "1/h", false),
            ],
            Corner = ["", " Worst corner (X 420, Y 580): not known, nothing has been measured yet."],
            Step = ("First power-up list: 33 checks, begins with the plug out. 60 min.", "Because: nothing may be powered or moved by this program before it."),
        },
        80));

    [Fact]
    public void S03_the_bench_after_half_a_year() => Same("S03-bench-half-year", BenchSheet.Of(HalfAYear, 80));

    // Row by row: the table and the frame as they are drawn by the sheet, and below the table what it was given, in its place.
    [Fact]
    public void S23_the_wide_bench_row_by_row()
    {
        var drawn = Wireframe.Rows("S23-bench-wide");
        var view = HalfAYear with
        {
            Right = "Sat 17 Oct 2026 . 3 due, 1 stale, 1 suspect, 4 never",
            Corner = [.. drawn[18..33].Select(row => (Line)row)],
            Step = ("Tram, 8 points. 15 min. Dial on its arm, glass plate.", "Because: suspect since the crash of 3 Oct; bed map and Z to bed wait for it. Then: bed map 15, homing 15 min."),
        };
        var shown = SheetFrame.Text(BenchSheet.Of(view, 120), 120, 40).TrimEnd('\n').Split('\n');
        Assert.Equal(drawn.Length, shown.Length);
        for (var row = 0; row < drawn.Length; row++)
        {
            var (wanted, got) = (drawn[row], shown[row]);
            // The bars of three rows were drawn half a cell the other way; all that stands beside them is the same.
            if (row is 4 or 12 or 13)
                (wanted, got) = (wanted[..46] + wanted[74..], got[..46] + got[74..]);
            Assert.Equal(wanted, got);
        }
    }

    [Fact]
    public void S22_the_card() => Same("S22-card", CardSheet.Of(
        "Heron", "scale Y, reading",
        [
            new("B", "bench", "what is known", "place"), new("W", "work", "<- you are here", "place"), new("F", "findings", "2 since April", "place"), new("T", "trend", "7 series", "place"),
            new("C", "controller", "linked, 10:39", "place"), new("K", "kit", "4 instruments", "place"), new("L", "log", "page 12", "place"), new("M", "machine", "Heron", "place"),
        ],
        [
            new("Enter", "accept what is typed", "", "accept"), new("R", "read the last one again", "", "again"), new("E", "leave one out, with a reason", "", "exclude"), new("G", "large figures", "", "large"),
            new("N", "note to this reading", "", "note"), new("P", "other plans", "", "plans"), new("V", "raw readings and times", "", "raw"), new("D", "details of the fit", "", "so-far"),
            new("H", "home", "in the middle of a step", "home", Possible: false), new("Q", "leave", "from the bench; Esc twice", "leave", Possible: false), new("", "verdict", "after reading 10", "verdict", Possible: false),
        ],
        chosen: null, Hidden));

    [Fact]
    public void S04_the_overview_of_a_procedure() => Same("S04-overview", OverviewSheet.Of(new OverviewView
    {
        Path = "Heron / work / scale Y", Right = "Sat 18 Apr 2026", Live = Linked,
        Lines =
        [
            ("Route", "1 read this  2 blocks  3 read x10  4 finding  5 set  6 verify"),
            ("For", "parts of the right length along Y. Most often the answer is: leave it."),
            ("Takes", "25 min. Machine moves: yes, 10 times along Y, at most 600 mm/min."),
            ("With", "caliper 150 (limit of error 0.030 mm; your hand: s 0.016, 14 dof)"),
            ("Gives", "U about 300 ppm. Limit 500: \"within\" can be said up to +/-250. P plan"),
            ("Needs", "lost motion Y [==] fresh 7d   ratio Y [==] fresh 7d   hand [==] fresh\nwarmed up: asked in step 2"),
            ("Ends", "early if the last reading misses the first by more than 0.048 mm, at a\nnew noise or smell, or when a block has moved."),
        ],
        Hazards =
        [
            new("The gantry moves where hands and caliper have just been: crushing.", "Hand and caliper out before every move. One person at the keys."),
            new("A cutter that starts takes fingers.", "Pull the router's cord out of the socket. Take the cutter out."),
            new("STOP on this keyboard is software and can fail.", "The wired emergency stop within reach of the free hand."),
        ],
    }));

    // The last way says more than the drawing: where what was put aside is found again. What began at the first time is the run: the program may have been started before it.
    [Fact]
    public void S20_after_a_sudden_end()
    {
        var rows = SheetFrame.Text(ResumeSheet.Of(new ResumeView
        {
            Machine = "Heron", Right = "Sat 18 Apr 2026 . 11:52", Session = ("10:02", "10:31"), What = "scale Y", Step = 3, Reading = (7, 10),
            OnDisk = "setting-up, hazards (S by M. 10:06), readings 1 to 6", CutOff = "half a line of reading 7: \"146.4\" without its end.\nIt is shown here and not used.",
            DrivesOff = 0, Untouched = 1, Asking = 1, Counted = 6, Gives = "U about 300 ppm",
            Live = new("link rest . cmd ??? ??? ??? . NOT TRUSTED: power may have been off", Stops: true),
        })).Split('\n');
        var wireframe = Wireframe.Rows("S20-resume");
        for (var i = 0; i < wireframe.Length; i++)
        {
            if (i != 18)
                Assert.Equal(wireframe[i].Replace("The session of", "The run of", StringComparison.Ordinal), rows[i]);
        }
    }

    // Tools stand on the route card and the temperature is asked by itself: one sheet, one question. S vouches for what is done.
    [Fact]
    public void S05_a_step_with_its_drawing()
    {
        var drawn = Wireframe.Rows("S05-step");
        var sheet = QuestionSheet.Of(new QuestionView
        {
            Path = "Heron / work / scale Y / 2 blocks", Right = "step 2 of 6", Live = Linked,
            Text = string.Join('\n', drawn[11..15].Prepend("Clamp the blocks.").Select(row => row.Trim())), Drawing = [.. drawn[4..10].Select(row => row.Length > 0 ? row[1..] : row)],
            Step = ("Clamp them. Enter when both are tight.", "Because: a block that creeps by 0.05 mm looks like 360 ppm."),
            Keys = [new("Enter", "done", "next"), new("Esc", "back", "away"), new("N", "note", "note"), new("D", "picture in words", "data"), new("F1", "help", "help"), new("F2", "card", "card")],
        });
        var shown = SheetFrame.Text(sheet).TrimEnd('\n').Split('\n');
        Assert.Equal(drawn[..2], shown[..2]);
        Assert.Equal(drawn[2][..18], shown[2]);
        Assert.Equal(drawn[3..15], shown[3..15]);
        Assert.Equal(drawn[20..], shown[20..]);
    }

    [Fact]
    public void S06_the_table_of_readings_shows_neither_target_nor_verdict()
    {
        var rows = SheetFrame.Text(ReadingsSheet.Of(Readings, 80, 24)).Split('\n');
        var wireframe = Wireframe.Rows("S06-readings");
        Assert.Equal(wireframe[0], rows[0]);
        for (var i = 2; i < 13; i++)
            Assert.Equal(Left(wireframe[i]), Left(rows[i]));
        Assert.All(wireframe[16..19], row => Assert.Contains(row, rows));
        Assert.Equal(string.Join('\n', wireframe[^4..]), string.Join('\n', rows[20..24]));
        static string Left(string row) => row.PadRight(42)[..41].TrimEnd();
    }

    [Fact]
    public void S07_did_you_mean_stands_in_the_place_of_the_picture()
    {
        var view = Readings with
        {
            Lines = Readings.Lines.SetItem(6, Readings.Lines[6] with { Reading = "164.51", Mark = "??" }),
            SoFar = [],
            Question = SlipQuestion.Lines(new SlipWords("164.51 lies 18.010 mm away from the line of the first six", "164.51", "146.51", SlipQuestion.Slipped("164.51", "146.51")) { Off = "+10 um" }),
            Foot = SlipQuestion.Foot("164.51", "far"),
            Keys = SlipQuestion.Keys(new SlipWords("", "164.51", "146.51", null)),
            Step = ("Read the caliper again, it is still between the blocks. Enter or R.", "Because: a second look costs ten seconds, a wrong guess costs the axis."),
        };
        var shown = SheetFrame.Text(ReadingsSheet.Of(view, 80, 24)).TrimEnd('\n').Split('\n');
        var drawn = Wireframe.Rows("S07-did-you-mean");
        for (var row = 0; row < drawn.Length; row++)
        {
            // What stands beside the table breaks its lines one column further left; a machine is more than its gantry; two letters of the strip.
            if (row is >= 3 and <= 12)
                Assert.Equal(drawn[row].Split(' ', StringSplitOptions.RemoveEmptyEntries).Take(row < 9 ? 4 : 5), shown[row].Split(' ', StringSplitOptions.RemoveEmptyEntries).Take(row < 9 ? 4 : 5));
            else if (row == 16)
                Assert.Equal(drawn[row].Replace("gantry", "machine", StringComparison.Ordinal), shown[row]);
            else
                Assert.Equal(drawn[row], shown[row]);
        }

        var beside = shown[3..13].Select(row => row.PadRight(42)[40..].Trim()).Where(text => text.Length > 0);
        Assert.Equal(
            ["164.51 lies 18.010 mm away from the", "line of the first six. A slip?", "R   read it again        (Enter)", "A   146.51, 4 and 6 swapped", "would lie +10 um off the line", "O   164.51 is what it reads", "kept, marked, in the report"], beside);
    }

    [Theory]
    [InlineData("164.51", "146.51", "4 and 6 swapped")]
    [InlineData("14.651", "146.51", "the point moved")]
    [InlineData("1.46", "4.16", "4 and 1 swapped")]
    [InlineData("77.45", "71.45", "7 for 1")]
    [InlineData("77.45", "77.54", "5 and 4 swapped")]
    [InlineData("8.49", "84.9", "the point moved")]
    [InlineData("20.01", "21.00", null)]
    public void What_fingers_did_is_said_where_it_is_one_thing(string typed, string meant, string? said) => Assert.Equal(said, SlipQuestion.Slipped(typed, meant));

    [Fact]
    public void S10_the_box_before_a_write() => Same("S10-write", WriteBoxSheet.Of(Slip));

    [Fact]
    public void S10_afterwards_says_what_was_read_back_and_what_is_not_tested()
    {
        var agrees = SheetFrame.Text(WriteBoxSheet.Of(Slip with { Result = ["319.606, agrees, 10:41"], Step = ("Written.", "Because.") }));
        Assert.Contains("|    read back        319.606, agrees, 10:41", agrees, StringComparison.Ordinal);
        Assert.Contains("Not tested: whether the controller keeps it when its power goes.", agrees, StringComparison.Ordinal);
        Assert.DoesNotContain("Press Y", agrees, StringComparison.Ordinal);
    }

    [Fact]
    public void A_setting_of_all_axes_waits_for_the_letter_of_each()
    {
        var homing = Slip with { Letters = ['X', 'Y', 'Z'], Given = 1, Lines = [new("homing on", "0", "1")], Decides = "homing" };
        var text = SheetFrame.Text(WriteBoxSheet.Of(homing));
        Assert.Contains("WRITE ONE SETTING  this decides homing", text, StringComparison.Ordinal);
        Assert.Contains("Press Y, then Z: all axes.", text, StringComparison.Ordinal);
        Assert.Contains("Compare the two numbers, then Y.", text, StringComparison.Ordinal);
    }

    private static WriteBoxView Slip => new()
    {
        Path = "Heron / findings / scale Y / set", Letters = ['Y'], Lines = [new("steps per mm, Y", "320.000", "319.606")], Others = 17, SavedAt = "10:14 today", WayBack = "10:14", Live = At204,
    };

    [Fact]
    public void S13_the_record_of_the_checks_with_one_that_is_out() => Same("S13-power-up", CheckListSheet.Of(
        new CheckListView
        {
            Path = "Heron / work / first power-up", Right = "Sun 5 Apr 2026 . check 8 of 33", NotOpened = 25,
            Rows =
            [
                new("P01", "plug out, no loose strands, covers on", "yes", "all yes", "M.", true), new("P02", "earth pin to frame, spindle, door, rails", "0.06 ohm", "<= 0.10", "M.", true),
                new("P03", "insulation to earth at 500 V", "210 Mohm", ">= 1", "el.", true), new("P04", "fuse, residual-current device, its test", "6 A, yes", "local code", "el.", true),
                new("P09", "DC supply alone, drivers not connected", "36.2 V", "34.2..37.8", "M.", true), new("P10", "touchable without shock, dry place", "36.2 V", "<= 60", "M.", true),
                new("P12", "logic supply", "5.02 V", "4.75..5.25", "M.", true), new("P05", "emergency stop pressed: volts left at the empty driver terminals after 5 s", "36.2 V", "< 5 V", "M.", false),
            ],
            Hazards = [new("The emergency stop does not take the power from the drivers.", "Switch off, plug out, wait 5 minutes, measure 0 V before touching.")],
            Then = ["36.2 V unchanged   the stop is not in the circuit of the drive supply", "falling slowly     stored charge; a discharge resistor is missing or too large", "Anything behind the mains covers is work for a licensed electrician."],
            Step = ("Plug out. Find it with the power off. Then read P05 again with R.", "Because: from here on the wired stop is what saves a hand."),
            Live = new LiveStrip("link none . refused until P05 is in: no link, no motion", false),
            Keys = [new("R", "read P05 again", "again"), new("N", "note who and what", "note"), new("D", "how to measure", "how"), new("Esc", "bench", "away"), new("F2", "card", "card")],
        },
        24));

    [Fact]
    public void S19_the_controller_marks_only_what_differs()
    {
        static SettingRow Row(string name, string axis, string now, string unit = "") => new(name, axis, now, now) { Unit = unit };
        Same("S19-controller", ControllerSheet.Of(new ControllerView
        {
            Machine = "Heron", Right = "Sat 17 Oct 2026 . linked 10:39", KnownAt = "29 Aug",
            Rows =
            [
                Row("steps per mm", "X", "320.000"), Row("", "Y", "319.606") with { By = "us, 18 Apr" }, Row("", "Z", "320.000"),
                Row("fastest feed", "X", "3000", "mm/min"), Row("", "Y", "3000"), Row("", "Z", "1200"),
                Row("acceleration", "X", "250", "mm/s2"), new("", "Y", "400", "250") { Difference = "+150", By = "NOT BY US", Differs = true, Chosen = true }, Row("", "Z", "150"),
                Row("travel", "X", "420", "mm"), Row("", "Y", "580"), Row("", "Z", "90"),
            ],
            Count = "18 settings compared, 1 differs.   saved: 18 Apr before, 18 Apr after, 29 Aug",
            About = ["Acceleration Y was 250 when its speeds were tested. At 400 nobody has tested it: \"speeds Y\" is stale until this is put back or tested again."],
            Step = ("Acceleration Y: put back, keep, or do not know? Enter opens the three.", "Because: results taken with other settings must not be mixed unseen."),
            Live = new LiveStrip("link rest . cmd ??? ??? ??? . NOT TRUSTED: not homed since power-up", true),
            Keys = [new("Enter", "decide", "next"), new("R", "read again", "read-again"), new("V", "older sets", "older"), new("D", "wire text", "wire"), new("N", "note", "note"), new("F2", "card", "card")],
        }));
    }

    [Fact]
    public void S11_the_box_before_a_move_shows_the_whole_move() => Same("S11-motion", MotionBoxSheet.Of(new MotionBoxView
    {
        Path = "Heron / work / scale Y / 3 read", Right = "move 2 of 10", Axis = 'Y', Part = "THE GANTRY", Direction = "away from you", DistanceMm = 137.781, SpeedMmMin = 600,
        Path1D = (204.2, 341.981), Allowed = (10, 570), Live = At204, Because = "Because: reading 2 is taken at the far end, coming in from below.",
        Hazard = new("Crushing between gantry and block.", "Caliper out. Hands out. Is anybody else near?"),
    }), exceptRows: [7, 8]);

    [Fact]
    public void S12_STOP() => Same("S12-stop", StopSheet.Of(new StopView(
        "Heron", "10:31:07", "pressed: space bar",
        [("immediate stop sent", "10:31:07.41"), ("controller answered", "10:31:07.46"), ("no motion reported since", "10:31:07.52")],
        "readings 1 to 6 of scale Y, on disk. Reading 7 was not taken.",
        new LiveStrip("link rest . cmd ??? ??? ??? . POSITION NOT TRUSTED since 10:31:07", true))));

    [Fact]
    public void S21_large_figures() => Same("S21-large", LargeSheet.Of(new LargeView(
        "Heron / work / scale Y / 3 read", "go to, coming from above", "far <", ("8.54", 6, "near"), "", "mm", 6, 10, false, Hidden), 80), exceptRows: [4, 5, 6, 7, 8]);

    private static void Same(string name, Sheet sheet, int[]? exceptRows = null)
    {
        var expected = Wireframe.Rows(name);
        var shown = SheetFrame.Text(sheet).TrimEnd('\n').Split('\n');
        foreach (var row in exceptRows ?? [])
            shown[row] = expected[row];
        Assert.Equal(string.Join('\n', expected), string.Join('\n', shown));
    }

    private static BenchRow Never(string name, string limit, string unit, bool twoSided) => new(name, BarStuff.Never)
    {
        Limit = limit, Unit = unit, Gauge = new(1, twoSided, null, 0, Verdict.None, BarStuff.Never),
    };

    private static BenchRow Row(
        string name, string value, string u, double limit, string shownLimit, string unit, double guard, Verdict verdict, BarStuff stuff, string age, string again = "", string waits = "")
    {
        var number = double.Parse(value, System.Globalization.CultureInfo.InvariantCulture);
        return new BenchRow(name, stuff)
        {
            Value = value, Uncertainty = u, Limit = shownLimit, Unit = unit, Age = age, Again = again, WaitsFor = waits,
            Gauge = new(limit, unit is "ppm" or "mrad", number, guard, verdict, stuff),
            Verdict = verdict switch { Verdict.Within => "in", Verdict.Undecided => "?", Verdict.Outside => "OUT", _ => "" },
        };
    }

    private static BenchView HalfAYear => new()
    {
        Machine = "Heron", Right = "Sat 17 Oct 2026",
        Rows =
        [
            new BenchRow("power-up list", BarStuff.Fresh) { Value = "33/33", Uncertainty = "", Limit = "33", Verdict = "in", Age = "27w", Again = "11 Apr" },
            Row("homing, worst", "0.0110", "0.0092", 0.030, "0.030", "mm", 0.0077, Verdict.Within, BarStuff.Due, "26w", "17 Oct"),
            Row("lost motion X", "0.0435", "0.0084", 0.080, "0.080", "mm", 0.0070, Verdict.Within, BarStuff.Fresh, "13d", "3 Jan"),
            Row("lost motion Y", "0.0631", "0.0084", 0.080, "0.080", "mm", 0.0070, Verdict.Within, BarStuff.Fresh, "13d", "17 Oct"),
            Row("lost motion Z", "0.0040", "0.0046", 0.080, "0.080", "mm", 0.0038, Verdict.Within, BarStuff.Fresh, "27w", "11 Apr"),
            Row("scale X", "+160", "300", 500, "500", "ppm", 250, Verdict.Within, BarStuff.Due, "26w", "17 Oct"),
            Row("scale Y", "-70", "300", 500, "500", "ppm", 250, Verdict.Within, BarStuff.Due, "25w", "17 Oct"),
            Never("scale Z", "500", "ppm", true),
            Row("squareness XY", "+0.24", "0.35", 0.50, "0.50", "mrad", 0.29, Verdict.Undecided, BarStuff.Fresh, "13d", "3 Jan"),
            Row("tram, 200 mm", "0.021", "0.024", 0.050, "0.050", "mm", 0.020, Verdict.None, BarStuff.Suspect, "24w", "now"),
            Row("bed map", "0.092", "0.039", 0.150, "0.150", "mm", 0.0325, Verdict.None, BarStuff.Stale, "24w", "now", "tram"),
            Never("Z to bed", "0.50", "mrad", true) with { WaitsFor = "bed map" },
            Row("runout, 20 mm", "0.0310", "0.0060", 0.050, "0.050", "mm", 0.0050, Verdict.Within, BarStuff.Fresh, "13d", "3 Apr"),
            new BenchRow("test cut", BarStuff.Never) { WaitsFor = "tram" },
            Never("false trips", "0.12", "1/h", false),
        ],
        Corner =
        [
            " WORST CORNER      0.23    0.23   0.40 mm   [<====o====|>   ?",
            "   X 420 Y 580, along X. Would decide: squareness with pins, 10 min, U to 0.16",
        ],
        Step = ("Tram, 8 points. 15 min. Dial on its arm, glass plate.", "Because: suspect since the crash of 3 Oct; bed and Z to bed wait for it."),
    };

    private static ReadingsView Readings => new()
    {
        Path = "Heron / work / scale Y / 3 read", Instrument = "caliper 150", Unit = "mm", Now = 6, Live = Hidden,
        Lines =
        [
            new(1, "near", '>') { Reading = "8.49", OffLineUm = 7 }, new(2, "far", '>') { Reading = "146.45", OffLineUm = 7 },
            new(3, "middle", '>') { Reading = "77.45", OffLineUm = -13 }, new(4, "far", '<') { Reading = "146.50", OffLineUm = 0.3 },
            new(5, "near", '<') { Reading = "8.54", OffLineUm = 0.1 }, new(6, "near", '<') { Reading = "8.54", OffLineUm = 0 },
            new(7, "far", '<'), new(8, "middle", '<'), new(9, "far", '>'), new(10, "near", '>'),
        ],
        SoFar =
        [
            "it moves as commanded within 1 %: the right axis, the right lead",
            "scatter of a reading 0.015 mm, like your hand study: 0.016",
            "value and verdict after reading 10: looking early: 18 % false alarms",
        ],
        Step = ("Far, coming from above. Rock, smallest value, lock, type it. Enter.", "The gantry stands still there. What it should read is shown afterwards."),
    };
}
