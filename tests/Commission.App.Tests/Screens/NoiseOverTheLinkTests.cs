using Commission.Core.Procedures;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Pages;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>False trips counted over the link by the step that asks for them.</summary>
public sealed class NoiseOverTheLinkTests : KnownScreens
{
    // Half an hour, an hour with the lid closed, half an hour: the running clock stands still while the calendar goes on.
    [Fact]
    public void The_step_counts_the_hours_itself_leaves_out_the_sleep_and_takes_the_trips_of_just_these_hours()
    {
        using var window = Asked();
        Assert.Contains("The link counts since", window.Rows[21], StringComparison.Ordinal);
        HalfAnHour();
        Clock.AdjustTime(Clock.GetUtcNow() + TimeSpan.FromHours(1));
        HalfAnHour();
        window.Type("v");
        Assert.Contains("in 2 pieces; 1 h between them were not seen", window.Said, StringComparison.Ordinal);
        window.Type("\n");
        HalfAnHour();
        window.Type("\n");
        var checks = Ledger.Checks.Select(made => made.Body).Where(made => made.Check is "hours" or "trips").ToDictionary(made => made.Check);
        Assert.InRange(checks["hours"].Value!.Value, 0.999, 1.0);
        Assert.StartsWith("Watched 1 h in 2 pieces", checks["hours"].Typed, StringComparison.Ordinal);
        Assert.Equal((0.0, checks["hours"].Typed), (checks["trips"].Value!.Value, checks["trips"].Typed));
        Assert.Equal(2.996, Ledger.Findings.Values.Single().Made.Body.Finding.Headline.Value!.Value, 2);
    }

    [Fact]
    public void Trips_of_hours_that_were_typed_are_not_taken_from_the_link()
    {
        using var window = Asked();
        window.Type("24\n");
        Assert.DoesNotContain("The link counts since", window.Text, StringComparison.Ordinal);
        window.Type("\n");
        Assert.DoesNotContain(Ledger.Checks, made => made.Body.Check == "trips");
        window.Type("1\n");
        Assert.Equal(1, Ledger.Checks[^1].Body.Value);
    }

    [Fact]
    public void A_count_outlives_the_program_and_the_time_until_it_is_taken_up_is_a_hole()
    {
        using (var left = Asked())
        {
            HalfAnHour();
            Assert.IsType<Desk>(left.Desk).Leave();
        }

        Clock.Advance(TimeSpan.FromHours(1));
        using var window = Asked();
        Assert.Contains("after 0.5 h kept. V tells the count.", window.Rows[21], StringComparison.Ordinal);
        HalfAnHour();
        window.Type("\n");
        var hours = Ledger.Checks.Single(made => made.Body.Check == "hours").Body;
        Assert.Equal(1, hours.Value!.Value, 0.001);
        Assert.Matches("in 2 pieces; 1 h between them were not seen", hours.Typed);
    }

    // O at the question: the run waits, and no count opens it again.
    [Fact]
    public void A_run_that_is_put_aside_keeps_what_was_counted_and_counts_no_more()
    {
        using var window = Asked();
        Pass(200);
        window.Type("os");
        var last = Journal.Entries().Last().Sequence;
        HalfAnHour();
        Assert.Equal(last, Journal.Entries().Last().Sequence);
        Assert.Equal(RunStanding.PutAside, Ledger.Runs.Values.Last().Standing);
        Assert.InRange(Journal.Entries().Select(entry => (entry.Body as EntryBody.Noted)?.Text).OfType<string>().Select(TripNote.Read).OfType<TripNote>().Last().Watch.Watched.TotalSeconds, 195, 201);
    }

    [Fact]
    public void Wiring_that_is_told_as_changed_while_the_step_asks_begins_another_count()
    {
        using var window = Asked();
        HalfAnHour();
        var desk = Assert.IsType<Desk>(window.Desk);
        desk.Cover(new ChangePage(desk));
        desk.Do(new KeyAct.Choose(ChangeWord.All.IndexOf(ChangeWord.Find("wiring-changed")!), false));
        window.Type("\n");
        window.Type("\n");
        Assert.Equal("wiring-changed", Journal.Entries().Select(entry => entry.Body).OfType<EntryBody.ChangeTold>().Single().Change);
        window.Type("w");
        Pass(60);
        window.Type("\n");
        Assert.InRange(Ledger.Checks.Single(made => made.Body.Check == "hours").Body.Value!.Value, 55 / 3600.0, 62 / 3600.0);
    }

    [Fact]
    public void Without_the_link_the_two_numbers_are_typed()
    {
        using var window = Asked(linked: false);
        Assert.Contains("Type the number in h.", window.Text, StringComparison.Ordinal);
        window.Type("\n");
        Assert.Contains("A number in h is wanted", window.Text, StringComparison.Ordinal);
        window.Type("24\n0\n");
        Assert.Equal(2.996 / 24, Ledger.Findings.Values.Single().Made.Body.Finding.Headline.Value!.Value, 3);
    }

    // The timer must see each second by itself.
    private void HalfAnHour() => Pass(1800);

    private void Pass(int seconds)
    {
        for (var i = 0; i < seconds; i++)
            Clock.Advance(TimeSpan.FromSeconds(1));
    }

    // At the question for the hours.
    private Headless Asked(bool linked = true)
    {
        var window = On(KnownMachine.Options(Journal, "noise") with { LinkClock = new PatientTime() });
        if (linked)
            Link(window);
        window.Type("w\ns\n");
        if (window.Rows[0].Contains("unfinished", StringComparison.Ordinal))
            window.Type("\n");
        return window;
    }
}
