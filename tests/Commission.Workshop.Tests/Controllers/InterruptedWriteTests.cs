using Commission.Practice.Controller;
using Commission.Workshop.Controllers;
using Commission.Workshop.Requests;

namespace Commission.Workshop.Tests.Controllers;

/// <summary>The cable comes out at any byte of a write and its read-back: the next connection notices, and says what is certain.</summary>
public class InterruptedWriteTests
{
    private const string Dialogue = "$101=319.606\n$$\n";

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    /// <summary>Passes so many bytes of lines once it is armed, then nothing more in either direction. The question for the state is no line.</summary>
    private sealed class CutWire(Stream inner) : ITransport
    {
        private readonly CancellationTokenSource cut = new();
        private int left = int.MaxValue;

        public string? Remark => null;

        public bool Alive => !cut.IsCancellationRequested;

        public void CutAfter(int bytes) => Volatile.Write(ref left, bytes);

        public async ValueTask<int> ReadAsync(Memory<byte> into, CancellationToken cancellation)
        {
            using var either = CancellationTokenSource.CreateLinkedTokenSource(cut.Token, cancellation);
            try
            {
                return await inner.ReadAsync(into, either.Token);
            }
            catch (OperationCanceledException) when (cut.IsCancellationRequested)
            {
                throw new IOException("the cable is out");
            }
        }

        public async ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellation)
        {
            if (cut.IsCancellationRequested)
                throw new IOException("the cable is out");
            var counts = bytes.Length > 1;
            var passes = bytes.Span.SequenceEqual("?"u8) ? bytes.Length : Math.Min(left, bytes.Length);
            var ends = counts && passes == left;
            if (counts)
                left -= passes;
            // The reader goes first: an answer to the last byte is not to arrive, and the last byte leaves whatever the reader's end brings about.
            if (ends)
                await cut.CancelAsync();
            await inner.WriteAsync(bytes[..passes], CancellationToken.None);
        }

        public async ValueTask DisposeAsync()
        {
            await inner.DisposeAsync();
            cut.Dispose();
        }
    }

    [Fact]
    public async Task A_write_cut_at_any_byte_is_noticed_at_the_next_connection_with_what_is_certain()
    {
        var told = new List<string>();
        for (var bytes = 1; bytes <= Dialogue.Length; bytes++)
        {
            var board = new PracticeController(ShippedDialects.Find("numbered-settings")!, new ControllerBody([420, 580, 90], [200, 300, 60]));
            using var journal = new MemoryJournal(StoreNature.Real, "s", "test", TimeProvider.System);
            var said = await WriteAsync(board, journal, bytes);
            board.Inject(ControllerFault.Restart);
            var written = board.Setting("101") == "319.606";
            // At once no more is said than is known: what is called not sent or refused is not written, what is called written is.
            Assert.StartsWith("steps per mm, Y, to 319.606: ", said, StringComparison.Ordinal);
            Assert.Contains(said[29..].Split([',', ':'])[0], (string[])["begun and not ended", "sent and not answered", written ? "written" : "not sent"]);
            Assert.Equal(bytes >= Dialogue.IndexOf('\n', StringComparison.Ordinal) + 1, written);
            var (_, link) = await OpenAsync(board);
            await using (link)
            {
                var found = (await new IdentifyController(link, journal, "Heron").RunAsync(Cancellation)).Require();
                Assert.Contains(written ? "the controller shows the new value" : "the controller shows the old value", found.Interrupted);
                told.Add(found.Interrupted!);
            }
        }

        Assert.Equal(2, told.Distinct().Count());
    }

    // What is said of the line at once.
    private static async Task<string> WriteAsync(PracticeController board, MemoryJournal journal, int bytes)
    {
        var (wire, link) = await OpenAsync(board);
        await using (link)
        {
            var settings = new ControllerSettings(link, journal, "Heron");
            var planned = (await settings.PlanStepsAsync(AxisName.Y, 319.6056, Cancellation)).Require();
            wire.CutAfter(bytes);
            return Assert.IsType<Outcome<System.Collections.Immutable.ImmutableArray<SavedSetting>>.Bad>(await settings.WriteAsync(planned, Cancellation)).Problems[0].What;
        }
    }

    private static async Task<(CutWire Wire, ControllerLink Link)> OpenAsync(PracticeController board)
    {
        var wire = new CutWire(new PracticeStream(board, TimeProvider.System));
        var link = (await ControllerLink.OpenAsync(wire, ShippedDialects.Find("numbered-settings")!, LinkBench.Facts, TimeProvider.System, Cancellation)).Require();
        await link.HeardAsync(TimeProvider.System, Cancellation);
        return (wire, link);
    }
}
