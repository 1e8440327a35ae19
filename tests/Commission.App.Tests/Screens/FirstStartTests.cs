using System.Text;
using Commission.Adapters.Files;
using Commission.Adapters.Storage;
using Commission.Practice.Machines;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>The three ways from the first page, by keys: a machine, practice and back, a history from another computer.</summary>
public sealed class FirstStartTests : RealStore
{
    [Fact]
    public void S_begins_practice_in_a_store_that_is_thrown_away_and_Q_on_its_bench_comes_back()
    {
        using var window = Open();
        window.Type("s");
        Assert.StartsWith(" PRACTICE  Heron / bench", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains("Q end practice", window.Rows[23], StringComparison.Ordinal);
        window.Type("l");
        Assert.StartsWith(" PRACTICE  Heron / log", window.Rows[0], StringComparison.Ordinal);
        window.Type("n");
        window.Type("only tried\n");
        window.Type("b");
        window.Type("q");
        Assert.StartsWith(" Commission ", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains("Nothing of it was kept.", window.Text, StringComparison.Ordinal);
        Assert.False(window.Desk.Left);
        Assert.IsType<EntryBody.StoreBorn>(Assert.Single(Store.Entries()).Body);
        // A second practice begins anew, and nothing of the first is in it.
        window.Type("s");
        window.Type("l");
        Assert.DoesNotContain("only tried", window.Text, StringComparison.Ordinal);
        window.Type("b");
        window.Type("q");
        window.Type("q");
        Assert.True(window.Desk.Left);
    }

    [Fact]
    public void In_practice_no_file_is_read_and_a_second_practice_is_refused_with_the_reason()
    {
        using var window = Open();
        window.Type("s");
        window.Type("l");
        window.Type("i");
        window.Type("anything.jsonl\n");
        Assert.Contains("Practice that is not kept has no store and no files. Use the program outside practice.", window.Said, StringComparison.Ordinal);
        window.Press(Key.Esc);
        window.Type("n");
        window.Type("the first practice\n");
        window.Type("m");
        window.Press(Key.Enter);
        window.PressUntil(Key.CursorDown, ">> Practice");
        window.Press(Key.Enter);
        Assert.Contains("Practice: this is practice.", window.Said, StringComparison.Ordinal);
        window.Type("l");
        Assert.Contains("the first practice", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void What_set_up_refused_is_typed_over_and_a_comma_of_two_meanings_names_its_keys()
    {
        using var window = Open();
        window.Type("m");
        window.Type("Heron\n1/4\n");
        Assert.Contains("1/4 is no answer to this question", window.Said, StringComparison.Ordinal);
        window.Type("1,250\n");
        Assert.Contains("[ 1,250_ ", window.Text, StringComparison.Ordinal);
        Assert.Equal("NEXT >> Left takes 1.250, Right takes 1250. Then Enter.", window.Rows[20].TrimEnd());
        window.Press(Key.CursorRight, Key.Enter);
        Assert.Contains("How far does Y travel?", window.Text, StringComparison.Ordinal);
        Assert.StartsWith("NEXT >> Type it.", window.Rows[20], StringComparison.Ordinal);
    }

    [Fact]
    public void I_reads_in_an_exported_history_and_opens_its_machine()
    {
        var file = Exported();
        using var window = Open();
        window.Type("i");
        window.Type(file + "\n");
        Assert.StartsWith(" Egret / bench", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains("2 entries read in. The machine is Egret.", window.Text, StringComparison.Ordinal);
        Assert.Equal("Egret", Ledger.Machines.Single().Key);
    }

    // Found in use: "The machine is Small", and what had come in of another one was to be seen on no sheet.
    [Fact]
    public void A_history_of_another_store_beside_its_own_is_said_to_stand_there_and_not_twice()
    {
        var file = Exported();
        Store.Append(new EntryBody.MachineDescribed(HeronMachine.Description, Retired: false) { Machine = "Heron" }).Require();
        using var window = Open();
        window.Type("li" + file + "\n");
        Assert.StartsWith(" Heron / bench", window.Rows[0], StringComparison.Ordinal);
        Assert.Contains("2 entries read in as a second history; 'history list' names it.", window.Said, StringComparison.Ordinal);
        window.Type("li" + file + "\n");
        Assert.Contains("Nothing new: all of it stands here already.", window.Said, StringComparison.Ordinal);
    }

    [Fact]
    public void A_path_that_leads_nowhere_is_said_and_stays_to_be_mended()
    {
        var file = Exported();
        using var window = Open();
        window.Type("i");
        window.Type(file + "x\n");
        Assert.Contains("there is none of that name", window.Said, StringComparison.Ordinal);
        Assert.Contains("lx_", window.Text, StringComparison.Ordinal);
        window.Press(Key.Backspace, Key.Enter);
        Assert.StartsWith(" Egret / bench", window.Rows[0], StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_that_was_changed_brings_nothing_in()
    {
        var file = Exported();
        File.WriteAllText(file, File.ReadAllText(file).Replace("Egret", "Eagle", StringComparison.Ordinal));
        using var window = Open();
        window.Type("i");
        window.Type(file + "\n");
        Assert.Single(Store.Entries());
        Assert.Contains("or was changed after it was written. Export the journal again.", window.Said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(80, 24)]
    [InlineData(120, 40)]
    public void The_error_of_reading_in_as_it_is_shown(int width, int height)
    {
        using var window = Open(width, height);
        window.Type("i");
        window.Type("stick/heron.jsonl\n");
        Golden.Same($"read-in-not-there-{width}x{height}", window);
        window.Press(Key.Esc);
        window.Type("s");
        Golden.Same($"practice-begun-{width}x{height}", window);
    }

    private Headless Open(int width = 80, int height = 24) =>
        new(new PracticeDoor(PracticeStore.Options(Store) with { Files = new TextFiles(), Procedures = PracticeStore.All() }, Clock), width, height);

    // A history as another computer exports it.
    private string Exported()
    {
        var file = Path.Combine(Folder, "egret.jsonl");
        using var other = new Stores("test", Clock).Open(Path.Combine(Folder, "other"), StoreNature.Real, write: true).Require();
        other.Append(new EntryBody.MachineDescribed(new Machine { Name = "Egret", TravelMm = [300, 200, 60] }, Retired: false) { Machine = "Egret" }).Require();
        File.WriteAllText(file, string.Concat(other.Lines().Select(line => Encoding.UTF8.GetString(line.Span) + "\n")));
        return file;
    }
}
