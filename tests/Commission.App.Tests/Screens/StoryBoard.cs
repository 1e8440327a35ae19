using System.Collections.Immutable;
using System.Text;
using Commission.Core;
using Commission.Core.Machines.Dialects;
using Commission.Practice.Controller;
using Commission.Practice.Machines;
using Commission.Workshop.Controllers;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Pages;

namespace Commission.App.Tests.Screens;

/// <summary>A controller that is met again at each opening; lines can be altered on their way, as a bad cable would, and things happen to it.</summary>
internal sealed class StoryBoard : IPortOpener
{
    private static readonly HashSet<AxisName> Low = [.. Enum.GetValues<AxisName>().Where(axis => HeronMachine.Description[axis].HomeAt == HomeEnd.Low)];

    private readonly PatientTime _time = new();
    private readonly PracticeController _controller = new(ShippedDialects.Find("numbered-settings")!, new ControllerBody([420, 580, 90], [210, 290, 45]) { HomesLow = Low });
    private Action<ControllerFault>? _happens;
    private Action<double>? _runs;

    public Func<string, string> Tamper { get; set; } = line => line;

    /// <summary>Alters what it says, piece by piece as it comes.</summary>
    public Func<string, string> Answers { get; set; } = said => said;

    /// <summary>How often as fast as the clock the machine runs, from the next opening on and now.</summary>
    public double Scale
    {
        get;
        set
        {
            field = value;
            _runs?.Invoke(value);
        }
    }
    = 40;

    /// <summary>Whether the port cannot be opened any more.</summary>
    public bool Refuses { get; set; }

    public string Setting(string key) => _controller.Setting(key);

    public void ChangedElsewhere(string key, string text) => _controller.ChangedElsewhere(key, text);

    public void Happens(ControllerFault fault) => _happens!(fault);

    public void Unplug() => Happens(ControllerFault.Unplug);

    public LinkMeans Means() => Means(this, () => [new ControllerAddress("board", "numbered-settings")], _time);

    /// <summary>What a link needs that is opened by a test.</summary>
    public static LinkMeans Means(IPortOpener opener, Func<ImmutableArray<ControllerAddress>> addresses, TimeProvider time)
    {
        var connect = new ConnectController(opener, new Commission.Adapters.Files.TextFiles(), time);
        return new LinkMeans { Make = (tell, journal, machine) => new LinkDesk(connect, tell, journal, machine), Addresses = addresses };
    }

    public Outcome<ITransport> Open(string name, int baud)
    {
        if (Refuses)
            return new Problem("it is a port for tests", "Use another one");
        var stream = new PracticeStream(_controller, _time, Scale);
        (_happens, _runs) = (fault => stream.Do(controller => controller.Inject(fault)), scale => stream.Scale = scale);
        return new Cable(stream, this);
    }

    private sealed class Cable(PracticeStream stream, StoryBoard board) : ITransport
    {
        private readonly StreamTransport _inner = new(stream);

        public string? Remark => null;

        public bool Alive => _inner.Alive;

        public async ValueTask<int> ReadAsync(Memory<byte> into, CancellationToken cancellation)
        {
            // What is put in may be longer than what it stands for.
            var count = await _inner.ReadAsync(into[..(into.Length / 2)], cancellation);
            return Encoding.Latin1.GetBytes(board.Answers(Encoding.Latin1.GetString(into.Span[..count])), into.Span);
        }

        // What is altered into nothing meets no port either.
        public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellation) =>
            board.Tamper(Encoding.Latin1.GetString(bytes.Span)) is { Length: > 0 } line ? _inner.WriteAsync(Encoding.Latin1.GetBytes(line), cancellation) : ValueTask.CompletedTask;

        public ValueTask DisposeAsync() => _inner.DisposeAsync();
    }
}
