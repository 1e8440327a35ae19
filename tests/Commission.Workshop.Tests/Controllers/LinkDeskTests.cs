using System.Collections.Concurrent;
using Commission.Core.Motion;
using Commission.Practice.Controller;
using Commission.Workshop.Controllers;
using Commission.Workshop.Requests;

namespace Commission.Workshop.Tests.Controllers;

public class LinkDeskTests
{
    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    /// <summary>What a screen has: a queue that its own thread empties.</summary>
    private sealed class Screen : IPortOpener, ITextFiles, IAsyncDisposable
    {
        private readonly BlockingCollection<LinkTold> posted = [];
        private PracticeStream? wire;

        public Screen() => Desk = new(new ConnectController(this, this, TimeProvider.System), told => posted.Add(told));

        public LinkDesk Desk { get; }

        public int Opened { get; private set; }

        public void PullTheCable() => wire!.Do(board => board.Inject(ControllerFault.Unplug));

        public Outcome<ITransport> Open(string name, int baud)
        {
            Opened++;
            var board = new PracticeController(ShippedDialects.Find("numbered-settings")!, new ControllerBody([420, 580, 90], [400, 560, 80]));
            wire = new PracticeStream(board, TimeProvider.System, 60);
            return name == "none" ? new Problem("there is no port none", "Plug the cable in") : new Outcome<ITransport>.Good(new StreamTransport(wire));
        }

        public Outcome<string> Read(string path) => new Problem("no files here", "None");

        public bool IsThere(string path) => false;

        public Outcome<string> Write(string path, string text) => path;

        /// <summary>The screen's thread takes what was posted until something of a kind comes.</summary>
        public T Until<T>(Func<T, bool>? fits = null)
            where T : LinkTold
        {
            while (posted.Take(Cancellation) is var told)
            {
                if (told is LinkTold.Changed)
                    Desk.Taken();
                if (told is T one && fits?.Invoke(one) != false)
                    return one;
                Assert.False(told is LinkTold.Refused && typeof(T) != typeof(LinkTold.Refused), told.ToString());
            }

            throw new InvalidOperationException("nothing more was posted");
        }

        public void OpenAsThisMachine()
        {
            Desk.Open(new("port", "numbered-settings"), LinkBench.Facts);
            Until<LinkTold.Opened>();
            Desk.TellIdentity(true);
            Until<LinkTold.Changed>(_ => Desk.Now!.Gate.State is TrustState.Locked or TrustState.Unreferenced);
        }

        public ValueTask DisposeAsync() => Desk.DisposeAsync();
    }

    [Fact]
    public async Task A_screen_opens_homes_moves_stops_and_closes_without_waiting()
    {
        await using var screen = new Screen();
        var desk = screen.Desk;
        screen.OpenAsThisMachine();

        desk.Ask(new MotionAct.Home());
        var box = screen.Until<LinkTold.Box>().Confirmation;
        // The letter counts only once the box has stood for half a second.
        desk.Key('H');
        Assert.IsType<MotionEnd.NotBegun>(screen.Until<LinkTold.Ended>().How);
        screen.Until<LinkTold.Changed>(_ => desk.Now!.Gate.Now - box.DrawnAt > MotionTable.BoxSettles);
        desk.Key('H');
        Assert.IsType<MotionEnd.Reached>(screen.Until<LinkTold.Ended>().How);
        Assert.Equal(TrustState.Homed, desk.Now!.Gate.State);

        desk.SaveSettings();
        Assert.NotEmpty(screen.Until<LinkTold.Settings>().Snapshot.Settings);
        Assert.True(desk.Stop("F9"));
        screen.Until<LinkTold.Changed>(_ => desk.Now!.Gate.State == TrustState.Stopped);
        desk.Close();
        screen.Until<LinkTold.Closed>();
        Assert.Null(desk.Now);
        Assert.False(desk.Stop("F9"));
    }

    [Fact]
    public async Task After_the_cable_was_pulled_nothing_is_opened_again_but_by_hand()
    {
        await using var screen = new Screen();
        var desk = screen.Desk;
        screen.OpenAsThisMachine();

        screen.PullTheCable();
        screen.Until<LinkTold.Changed>(_ => !desk.Now!.Gate.LinkInStep);
        Assert.Equal(TrustState.Shut, desk.Now!.Gate.State);
        Assert.NotNull(desk.Now.Gate.Trouble);
        // Asking for what needs a link opens nothing either.
        desk.Ask(new MotionAct.Home());
        Assert.NotEmpty(screen.Until<LinkTold.Refused>().Problems);
        Assert.Equal(1, screen.Opened);

        desk.Close();
        screen.Until<LinkTold.Closed>();
        desk.Open(new("port", "numbered-settings"), LinkBench.Facts);
        screen.Until<LinkTold.Opened>();
        Assert.Equal(2, screen.Opened);
        // What was confirmed of the other connection does not hold for this one.
        Assert.Equal(TrustState.Shut, desk.Now!.Gate.State);
    }

    [Fact]
    public async Task What_is_asked_of_settings_without_a_link_is_refused_and_not_forgotten()
    {
        await using var screen = new Screen();
        screen.Desk.Write([]);
        Assert.Contains("no link is open", Assert.Single(screen.Until<LinkTold.Refused>().Problems).What);
    }

    [Fact]
    public async Task A_port_that_cannot_be_opened_is_told_in_words()
    {
        await using var screen = new Screen();
        screen.Desk.Open(new("none", "numbered-settings"), null);
        Assert.Contains("there is no port", Assert.Single(screen.Until<LinkTold.Refused>().Problems).What);
        Assert.Null(screen.Desk.Now);
    }
}
