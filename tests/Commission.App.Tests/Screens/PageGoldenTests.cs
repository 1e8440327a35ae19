using System.Text.RegularExpressions;
using Commission.Adapters.Files;
using Commission.Practice.Machines;
using Commission.Tests;
using Commission.Workshop.Screens.Pages;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>Every kind of page has a picture at both sizes; those that no other story keeps are kept here.</summary>
public sealed partial class PageGoldenTests : RealStore
{
    private static readonly Dictionary<Type, string> Pictures = new()
    {
        [typeof(AsidePage)] = "page-put-aside", [typeof(BenchPage)] = "bench-known", [typeof(CardPage)] = "card", [typeof(CataloguePage)] = "deed-catalogue", [typeof(ChangePage)] = "deed-change",
        [typeof(ControllerPage)] = "controller-differs", [typeof(DataPage)] = "page-lines-of-a-step", [typeof(DecidePage)] = "controller-decide", [typeof(DrawingPage)] = "step-drawing-words",
        [typeof(ExcludePage)] = "page-leave-one-out", [typeof(FactsPage)] = "deed-facts", [typeof(FigurePage)] = "page-picture", [typeof(FindingPage)] = "finding", [typeof(FindingsPage)] = "place-findings",
        [typeof(FirstStartPage)] = "first-start", [typeof(FitFilePage)] = "finding-copied", [typeof(FormPage)] = "deed-check", [typeof(HelpPage)] = "help", [typeof(KitPage)] = "place-kit", [typeof(LeaveOutPage)] = "page-leave-out-of-finding", [typeof(LogPage)] = "place-log",
        [typeof(LossPage)] = "link-alarm", [typeof(MachineDeedsPage)] = "deed-list", [typeof(MachinePage)] = "place-machine", [typeof(MachinesPage)] = "deed-machines", [typeof(MotionPage)] = "link-box-move",
        [typeof(NotePage)] = "note", [typeof(OlderSetsPage)] = "controller-older-sets", [typeof(OverviewPage)] = "overview", [typeof(PlanPage)] = "plans", [typeof(ReplacePage)] = "page-file-is-there",
        [typeof(ResumePage)] = "resume", [typeof(RunPage)] = "readings-seventh", [typeof(SetUpPage)] = "set-up-drive", [typeof(SkipPage)] = "page-skip-a-check", [typeof(StopPage)] = "link-stop", [typeof(TextPage)] = "deed-report",
        [typeof(TrendPage)] = "trend-list", [typeof(TrendSeriesPage)] = "trend-series", [typeof(WordsPage)] = "page-instrument", [typeof(WorkListPage)] = "place-work", [typeof(WritePage)] = "write-box",
    };

    [Fact]
    public void Every_kind_of_page_has_a_picture_at_both_sizes()
    {
        var kinds = typeof(Page).Assembly.GetTypes().Where(type => type.IsSubclassOf(typeof(Page)) && !type.IsAbstract).Select(type => type.Name).Order(StringComparer.Ordinal);
        Assert.Equal(kinds, Pictures.Keys.Select(type => type.Name).Order(StringComparer.Ordinal));
        foreach (var name in Pictures.Values.SelectMany(name => (string[])[name + "-80x24.txt", name + "-120x40.txt"]))
            Assert.True(File.Exists(Repository.At("tests", "Commission.App.Tests", "Golden", name)), name);
    }

    [Fact]
    public void A_check_that_is_skipped()
    {
        using var window = Open("first-power-up");
        // The first check holds, the second one does not.
        window.Type("w\ns\ns0.6\ne");
        Golden.Both("page-skip-a-check", window);
        window.Type("no meter here");
        Golden.Both("page-skip-a-check-reason", window);
    }

    [Fact]
    public void A_file_that_is_there_already()
    {
        File.WriteAllText(Path.Combine(Folder, "heron.md"), "of another day");
        using var window = Open("axis-scale");
        window.Type("m\n");
        window.PressUntil(Key.CursorDown, ">> Report ");
        window.Type("\n" + Path.Combine(Folder, "heron.md") + "\n");
        Golden.Both("page-file-is-there", window, WithoutFolder);
    }

    [Fact]
    public void The_lines_of_a_step()
    {
        using var window = Open("surfacing");
        window.Type("w\n");
        for (var i = 0; i < 40 && !window.Text.Contains("D lines", StringComparison.Ordinal); i++)
            window.Type(window.Text.Contains("Type the number", StringComparison.Ordinal) ? Story.Within(window.Rows[21]) + "\n" : StepKey().IsMatch(window.Text) ? "s" : "\n");
        window.Type("d");
        Golden.Both("page-lines-of-a-step", window);
    }

    private Headless Open(string procedure)
    {
        Store.Append(new EntryBody.MachineDescribed(HeronMachine.Description, Retired: false) { Machine = "Heron" }).Require();
        return On(PracticeStore.Options(Store) with { Files = new TextFiles(), Procedures = PracticeStore.Shipped(procedure) });
    }

    private string WithoutFolder(string text) => text.Replace(Path.GetFullPath(Folder), "/home/m", StringComparison.Ordinal);

    [GeneratedRegex(@"\bS (begin|all read|it is so|moves made|read)|S means")]
    private static partial Regex StepKey();
}
