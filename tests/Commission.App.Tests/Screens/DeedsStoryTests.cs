using System.Text;
using Commission.Adapters.Files;
using Commission.Workshop.Screens.Keys;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>Requests of the command line, done on the screens by keys over a real store: kit, log, machine, files.</summary>
public sealed class DeedsStoryTests : RealStore
{
    public DeedsStoryTests()
    {
        foreach (var name in (string[])["Egret", "Heron"])
            Store.Append(new EntryBody.MachineDescribed(new Machine { Name = name, TravelMm = [420, 580, 90] }, Retired: false) { Machine = name }).Require();
    }

    [Fact]
    public void An_instrument_is_added_from_the_catalogue_checked_studied_and_taken_out_of_use()
    {
        using var window = Open();
        window.Type("k");
        window.Type("a");
        window.Press(Key.Enter);
        Assert.Contains("What do you call it?", window.Text, StringComparison.Ordinal);
        window.Erase();
        window.Type(new string('c', 47) + "\n");
        Assert.Contains("A name has at most 40 characters, this one has 47.", window.Rows[21], StringComparison.Ordinal);
        Assert.Contains("question 1 of 5", window.Rows[0], StringComparison.Ordinal);
        window.Erase();
        window.Type("caliper 150\n\n\n\n\n");
        var instrument = Ledger.Instruments["caliper 150"].Body.Description;
        Assert.NotNull(instrument.LimitMm);
        Assert.Contains("caliper 150 is in the kit.", window.Said, StringComparison.Ordinal);
        window.Type("v");
        window.Type("\n\n125.00 125.01 125.00 125.00 125.01\n");
        Assert.Contains("Limit of error from now on", window.Said, StringComparison.Ordinal);
        Assert.StartsWith("checked against 125 mm", Ledger.Instruments["caliper 150"].Body.Description.Source, StringComparison.Ordinal);
        window.Type("u");
        Assert.Equal(instrument, Ledger.Instruments["caliper 150"].Body.Description);
        // Each reading with its own Enter, as a caliper with a cable types them; a comma is asked about at its own number.
        window.Type("v");
        window.Type("\n\n125.00\n");
        Assert.Contains("measure it anew, type the next", window.Said, StringComparison.Ordinal);
        window.Type("125,010\n");
        Assert.Contains("125,010 can be 125.010 or 125010.", window.Said, StringComparison.Ordinal);
        window.Press(Key.CursorLeft, Key.Enter);
        Assert.Contains("Typed so far: 2.", window.Text, StringComparison.Ordinal);
        window.Type("\n");
        Assert.Contains("2 readings show no scatter", window.Said, StringComparison.Ordinal);
        window.Type("125.00\n\n");
        Assert.Contains("Limit of error from now on", window.Said, StringComparison.Ordinal);
        window.Type("u");
        window.Type("e");
        Assert.True(Ledger.Instruments["caliper 150"].Body.Retired);
        window.Type("u");
        Assert.False(Ledger.Instruments["caliper 150"].Body.Retired);
        window.Type("s");
        Assert.Contains("Heron / work / hand study", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains("With    caliper 150", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_change_is_told_with_its_axis_and_words_taken_back_and_undone()
    {
        using var window = Open();
        window.Type("l");
        window.Type("a");
        window.Press(Key.CursorRight, Key.CursorRight, Key.Enter);
        window.Type("\nnew board set\n");
        var change = Ledger.Changes.Single();
        Assert.Equal(("steps-changed", "Y", "new board set"), (change.Told.Body.Change, change.Told.Body.Axis, change.Told.Body.Text));
        window.Type("e");
        window.Type("it was X\n");
        Assert.NotNull(Ledger.Changes.Single().Withdrawn);
        window.Type("a");
        window.Press(Key.Enter, Key.Enter);
        window.Type("\n");
        window.Type("u");
        Assert.Contains("Undone: change, steps per millimetre changed", window.Said, StringComparison.Ordinal);
        Assert.All(Ledger.Changes, told => Assert.NotNull(told.Withdrawn));
        // What cannot be undone says so.
        window.Type("u");
        window.Type("u");
        Assert.Contains("cannot be undone", window.Said, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Contains(" / entry ", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void A_fact_of_the_machine_is_corrected_a_wrong_word_is_refused_and_U_brings_the_old_one_back()
    {
        using var window = Open();
        window.Type("m");
        window.Type("a");
        window.Press(Key.Enter);
        window.Erase();
        window.Type("421,5\n");
        Assert.Equal(421.5, Ledger.Machines["Heron"].Description.TravelMm[0]);
        window.Press(Key.CursorDown, Key.CursorDown, Key.CursorDown, Key.CursorDown, Key.Enter);
        window.Erase();
        window.Type("steel\n");
        Assert.Contains("\"steel\" is none of the answers. Type one of:", window.Said, StringComparison.Ordinal);
        window.Press(Key.Esc);
        window.Type("u");
        Assert.Equal(420, Ledger.Machines["Heron"].Description.TravelMm[0]);
    }

    [Fact]
    public void A_travel_that_can_hardly_be_is_asked_about_where_the_machine_is_corrected_too_and_a_power_of_ten_is_refused()
    {
        using var window = Open();
        window.Type("ma\n");
        window.Type("4e2\n");
        Assert.Contains("4e2 is not written as a length is read. Type it in digits, as 400.", window.Said, StringComparison.Ordinal);
        window.Erase();
        window.Type("1.234\n");
        Assert.Contains("a travel of 1.234 mm is shorter than that of nearly all routers. A slip?", window.Text, StringComparison.Ordinal);
        window.Press(Key.Esc);
        window.Press(Key.CursorDown, Key.CursorDown, Key.Enter);
        window.Type("1234\n");
        Assert.Contains("the travel of Z, 1234 mm, is longer than that of X, 420", window.Text, StringComparison.Ordinal);
        Assert.Equal([420, 580, 90], Ledger.Machines["Heron"].Description.TravelMm.AsSpan().ToArray());
        window.Type("o");
        Assert.Equal(1234, Ledger.Machines["Heron"].Description.TravelMm[2]);
    }

    [Fact]
    public void Report_card_copy_and_export_are_written_and_the_bench_tells_the_age_of_the_copy()
    {
        using var window = Open();
        Assert.Contains("No copy elsewhere yet.", window.Text, StringComparison.Ordinal);
        foreach (var (deed, name) in new[] { ("Report", "heron.html"), ("Card for the wall", "card.md"), ("Copy the store elsewhere", "stick"), ("Export the history", "heron.jsonl") })
        {
            Deed(window, deed);
            window.Erase();
            window.Type(Path.Combine(Folder, name) + "\n");
            Assert.True(File.Exists(Path.Combine(Folder, name)) || Directory.Exists(Path.Combine(Folder, name)), deed + "\n" + window.Text);
        }

        window.Type("b");
        Assert.Contains("Last copy elsewhere: today, it holds everything.", window.Text, StringComparison.Ordinal);
        Assert.Equal(Store.Lines().Select(line => Encoding.UTF8.GetString(line.Span)), File.ReadAllLines(Path.Combine(Folder, "heron.jsonl")));
    }

    [Fact]
    public void Verifying_computing_again_adopting_and_the_published_cases_are_at_hand()
    {
        using var window = Open();
        Deed(window, "Verify every entry");
        Assert.Contains("3 entries verify.", window.Said, StringComparison.Ordinal);
        Deed(window, "Adopt a value off a card");
        window.Type("\n\n120ppm\n");
        Assert.Contains("Adopted, not measured", window.Said, StringComparison.Ordinal);
        Deed(window, "Compute all findings again");
        Assert.Contains("scale X: adopted, not measured", window.Text, StringComparison.Ordinal);
        Deed(window, "Published cases");
        Assert.Contains("published", window.Text, StringComparison.Ordinal);
        window.Type("f");
        window.Type("e");
        window.Type("wrong card\n");
        Assert.False(Ledger.Findings.Values.Single().Counts);
        window.Type("u");
        Assert.Contains("cannot be undone", window.Said, StringComparison.Ordinal);
    }

    [Fact]
    public void A_report_holds_for_a_day_or_compares_two_or_tells_one_session()
    {
        var run = Store.Append(new EntryBody.RunStarted { Machine = "Heron", Procedure = "axis-scale", ProcedureHash = "h", Axis = "X" }).Require();
        Store.Append(new EntryBody.RunEnded("completed", null) { Machine = "Heron", Run = run.Sequence }).Require();
        using var window = Open();
        string Asked(string day, string other, string session, string name)
        {
            Deed(window, "Report of a day or session");
            window.Type(day + "\n" + other + "\n" + session + "\n");
            window.Erase();
            window.Type(Path.Combine(Folder, name) + "\n");
            return window.Said;
        }

        Assert.Contains("Written to", Asked("2026-04-11", "", "", "day.md"), StringComparison.Ordinal);
        Assert.Contains("2026-04-11", File.ReadAllText(Path.Combine(Folder, "day.md")), StringComparison.Ordinal);
        Assert.Contains("Written to", Asked("", "2026-04-11", "", "two.md"), StringComparison.Ordinal);
        Assert.Contains("ask for one of them", Asked("", "2026-04-11", "3", "none.md"), StringComparison.OrdinalIgnoreCase);
        Leave(window);
        Assert.Contains("Written to", Asked("", "", run.Sequence.ToString(System.Globalization.CultureInfo.InvariantCulture), "session.md"), StringComparison.Ordinal);
        Assert.Contains("axis-scale", File.ReadAllText(Path.Combine(Folder, "session.md")), StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_of_readings_is_fitted_shown_and_kept_only_with_A()
    {
        var file = Path.Combine(Folder, "x.csv");
        File.WriteAllText(file, "commanded_mm,measured_mm,direction\n10,10.01,+\n150,150.03,+\n80,80.02,+\n150,150.06,-\n10,10.04,-\n80,80.05,-\n");
        using var window = Open();
        void Ask(string more)
        {
            Deed(window, "Fit a file of readings");
            window.Type("\n" + file + "\n");
            window.Erase();
            window.Type("caliper-150\n\n" + more + "\n");
        }

        Ask(" radius=3");
        Assert.Contains("\"radius\" is no option of axis-scale.", window.Said, StringComparison.Ordinal);
        Leave(window);
        Ask("");
        Assert.True(window.Rows[0].Contains("Heron / fit of a file / scale X", StringComparison.Ordinal), window.Text);
        Assert.Contains(" 6 readings", window.Rows[0], StringComparison.Ordinal);
        window.Type("\n");
        window.Type("o");
        Assert.Empty(Ledger.Findings);
        Ask("");
        window.Type("a");
        var made = Ledger.Findings.Values.Single().Made.Body;
        Assert.Equal(("axis-scale", "X", 6), (made.Characteristic, made.Axis, made.Readings.Length));
        Assert.StartsWith(" Heron / findings", window.Rows[0], StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("copied", "10,10.00,+\n150,150.00,+\n80,80.00,+\n150,150.00,-\n10,10.00,-\n80,80.00,-\n", "Every reading equals the commanded position")]
    [InlineData("too-few", "10,10.01,+\n150,150.03,+\n80,80.02,-\n", "no U")]
    [InlineData("wrong-lead", "10,8.02,+\n150,120.03,+\n80,64.02,+\n150,120.05,-\n10,8.04,-\n80,64.04,-\n", "FIND THE FAULT")]
    public void What_readings_speak_against_themselves_is_said_in_the_finding(string name, string rows, string said)
    {
        var file = Path.Combine(Folder, "x.csv");
        File.WriteAllText(file, "commanded_mm,measured_mm,direction\n" + rows);
        using var window = Open();
        Deed(window, "Fit a file of readings");
        window.Type("\n" + file + "\n");
        window.Erase();
        window.Type("caliper-150\n\n\n");
        Assert.True(window.Rows[0].Contains("Heron / fit of a file / scale X", StringComparison.Ordinal), window.Text);
        Assert.Contains(said, string.Join(' ', window.Rows.Select(row => row.Trim())), StringComparison.Ordinal);
        Golden.Both("finding-" + name, window);
    }

    [Fact]
    public void Settings_of_a_file_are_adopted_after_a_store_was_lost()
    {
        var file = Path.Combine(Folder, "settings.json");
        File.WriteAllText(file, """
            {"format":"commission.settings/1","dialect":"numbered-settings","settings":[{"key":"$100","name":"stepsPerMm","unit":"steps/mm","text":"320.000","value":320},
            {"key":"$101","name":"stepsPerMm","unit":"steps/mm","text":"319.606","value":319.606},{"key":"$102","name":"stepsPerMm","unit":"steps/mm","text":"400.000","value":400}]}
            """);
        using var window = Open();
        Deed(window, "Adopt a file of settings");
        window.Type(Path.Combine(Folder, "none.json") + "\n");
        Assert.Contains("none.json", window.Text, StringComparison.Ordinal);
        window.Erase();
        window.Type(file + "\n");
        Assert.Contains("3 settings adopted, not measured.", window.Said, StringComparison.Ordinal);
        Assert.Equal(319.606, Ledger.Machines["Heron"].Description.Y.StepsPerMm);
    }

    [Fact]
    public void The_end_of_a_long_path_stays_in_sight_while_it_is_typed()
    {
        using var window = Open();
        Deed(window, "Read in a history");
        window.Type("/media/" + new string('a', 80) + "/heron");
        Assert.Contains("aaa/heron_ ]", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Another_machine_is_used_and_one_is_put_out_of_use_by_its_name()
    {
        using var window = Open();
        Deed(window, "Use another machine");
        window.Press(Key.CursorUp, Key.Enter);
        Assert.StartsWith(" Egret / bench", window.Rows[0], StringComparison.Ordinal);
        Deed(window, "Put this machine out of use");
        window.Type("Heron\n");
        Assert.Contains("The machine is called Egret.", window.Said, StringComparison.Ordinal);
        window.Erase();
        window.Type("Egret\n");
        Assert.StartsWith(" Heron / bench", window.Rows[0], StringComparison.Ordinal);
        Assert.True(Ledger.Machines["Egret"].Retired);
    }

    [Fact]
    public void What_cannot_be_done_says_why_on_the_list_and_on_the_card()
    {
        using var window = Open();
        Deed(window, "Practice");
        Assert.Contains("Practice: commission rehearse begins it.", window.Said, StringComparison.Ordinal);
        window.Type("k");
        window.Press(Key.F2);
        Assert.Contains("not now, and why", window.Text, StringComparison.Ordinal);
        Assert.Contains("there is no instrument yet", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Bells_ring_only_once_they_were_chosen()
    {
        using var window = Open();
        LookFor(window, "Bells");
        Assert.Equal(0, window.Desk.TakeBells());
        // Done at the desk: the window would ring what came at once.
        window.Desk.Do(new KeyAct.FollowNext());
        Assert.Equal(1, window.Desk.TakeBells());
        var sheet = window.Desk.Show(80, 24);
        Assert.StartsWith("Bells: one when a reading is wanted", sheet.Message, StringComparison.Ordinal);
        Assert.Contains(sheet.Body, line => line.Text.Contains("Bells                           on", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(false, 0)]
    [InlineData(true, 2)]
    public void A_question_in_a_run_rings_two_bells_where_they_were_chosen(bool chosen, int bells)
    {
        var clock = KnownMachine.Clock();
        using var journal = KnownMachine.Journal(clock);
        var desk = ScreenProgram.DeskOf(KnownMachine.Options(journal), clock);
        if (chosen)
            desk.SwitchCues();
        using var window = new Headless(desk);
        window.Type("\ns\ns");
        Story.Read(window, 6);
        window.Type("164.51");
        Assert.Equal(0, desk.TakeBells());
        desk.Do(new KeyAct.Accept());
        Assert.Equal(bells, desk.TakeBells());
        Assert.Contains(desk.Show(80, 24).Body, line => line.Text.Contains("A slip?", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(80, 24)]
    [InlineData(120, 40)]
    public void The_sheets_of_the_deeds_as_they_are_shown(int width, int height)
    {
        using var window = Open(width, height);
        void Keep(string name) => Golden.Same($"deed-{name}-{width}x{height}", window);
        window.Type("m");
        window.Press(Key.Enter);
        Keep("list");
        window.Press(Key.Enter);
        Keep("facts");
        window.Press(Key.Enter);
        Keep("fact");
        window.Press(Key.Esc);
        Deed(window, "Use another machine");
        Keep("machines");
        Deed(window, "Report");
        Keep("report");
        window.Erase();
        window.Type("heron.doc\n");
        Keep("report-no-form");
        window.Press(Key.Esc);
        window.Type("k");
        Keep("kit-empty");
        window.Type("a");
        Keep("catalogue");
        window.Press(Key.Enter);
        Keep("instrument");
        window.Type("\n\n\n\n\n");
        window.Type("v");
        Keep("check");
        window.Type("\n\n125.01 125.02\n");
        Keep("check-too-few");
        Leave(window);
        window.Type("l");
        window.Type("a");
        Keep("change");
        window.Press(Key.CursorRight, Key.Enter);
        Keep("change-words");
        window.Type("\n\n");
        window.Type("e");
        Keep("take-back");
        window.Type("\n");
        Keep("take-back-no-reason");
    }

    // Answer by answer back, and away.
    private static void Leave(Headless window) => window.Press([.. Enumerable.Repeat(Key.Esc, 6)]);

    private Headless Open(int width = 80, int height = 24) =>
        On(PracticeStore.Options(Store) with { Files = new TextFiles(), Procedures = PracticeStore.Shipped("axis-scale", "gauge-study") }, width, height);

    // The deed is looked for with the arrows, as a person does.
    private static void Deed(Headless window, string called)
    {
        LookFor(window, called);
        window.Press(Key.Enter);
    }

    private static void LookFor(Headless window, string called)
    {
        window.Type("m");
        window.Press(Key.Enter);
        window.PressUntil(Key.CursorDown, ">> " + called);
    }
}
