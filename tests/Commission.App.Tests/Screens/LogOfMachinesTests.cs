using Commission.App.Tests.CommandLine;

namespace Commission.App.Tests.Screens;

/// <summary>Two machines in one store: the log of each is its own.</summary>
public sealed class LogOfMachinesTests : RealStore
{
    // Found in use: under the frame of a machine that was just described stood the readings and findings of the other one, without its name.
    [Fact]
    public void The_log_of_a_machine_shows_its_own_entries_and_those_of_no_machine()
    {
        Describe();
        using var window = Of("Small");
        window.Type("l");
        Assert.StartsWith(" Small / log ", window.Rows[0], StringComparison.Ordinal);
        Assert.EndsWith("3 entries", window.Rows[0].TrimEnd(), StringComparison.Ordinal);
        Assert.Contains("machine Small described", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("Heron", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("crash", window.Text, StringComparison.Ordinal);
        window.Type("n");
        window.Type("it hums\n");
        window.Type("l");
        Assert.EndsWith("4 entries", window.Rows[0].TrimEnd(), StringComparison.Ordinal);
        Assert.Contains("note: it hums", window.Text, StringComparison.Ordinal);
        using var other = Of("Heron");
        other.Type("l");
        Assert.Contains("hit the clamp", other.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("Small", other.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void U_undoes_no_entry_of_another_machine()
    {
        Describe();
        using var window = Of("Small");
        window.Type("l");
        window.Type("u");
        Assert.DoesNotContain(Store.Entries(), entry => entry.Body is EntryBody.Withdrawn);
        Assert.DoesNotContain("crash", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Where_machines_stand_side_by_side_history_list_names_the_one_of_each_entry()
    {
        Describe();
        Store.Dispose();
        var both = await Typed.Run("history", "list", "--store", Path.Combine(Folder, "store"));
        Assert.Contains(both.Lines, line => line.EndsWith("(Heron)", StringComparison.Ordinal) && line.Contains("hit the clamp", StringComparison.Ordinal));
        Assert.Contains(both.Lines, line => line.EndsWith("(Small)", StringComparison.Ordinal));
        var one = await Typed.Run("history", "list", "--machine", "Small", "--store", Path.Combine(Folder, "store"));
        Assert.DoesNotContain("Heron", one.Out, StringComparison.Ordinal);
    }

    private void Describe()
    {
        foreach (var name in (string[])["Heron", "Small"])
            Store.Append(new EntryBody.MachineDescribed(Practice.Machines.HeronMachine.Description with { Name = name }, Retired: false) { Machine = name }).Require();
        Store.Append(new EntryBody.InstrumentDescribed(new("caliper-150", Core.Instruments.InstrumentKind.CaliperDigital, 0.03, 0.01, 150, "invented"), Retired: false)).Require();
        Store.Append(new EntryBody.ChangeTold("crash", "X", "hit the clamp") { Machine = "Heron" }).Require();
    }

    private Headless Of(string machine) => On(PracticeStore.Options(Store) with { Operator = null, Machine = machine });
}
