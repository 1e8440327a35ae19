using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;

namespace Commission.Workshop.Controllers;

/// <content>The dialogue: reading, asking, sending. None of it decides what may move.</content>
public sealed partial class ControllerLink
{
    private async Task PumpAsync()
    {
        var buffer = new byte[4096];
        var splitter = new LineSplitter();
        try
        {
            while (!ending.IsCancellationRequested)
            {
                var count = await transport.ReadAsync(buffer, ending.Token).ConfigureAwait(false);
                if (count <= 0)
                    throw new IOException("the other end closed");
                Came(buffer.AsSpan(0, count));
                foreach (var line in splitter.Feed(buffer.AsMemory(0, count)))
                    foreach (var answer in reader.Read(line))
                        Understand(answer);
            }
        }
        catch (OperationCanceledException) when (ending.IsCancellationRequested)
        {
        }
        catch (Exception gone) when (gone is IOException or ObjectDisposedException or InvalidOperationException or OperationCanceledException
            or UnauthorizedAccessException or System.Threading.Channels.ChannelClosedException)
        {
            if (!ending.IsCancellationRequested)
                Lose("the device is gone: cable out, power off, or the port was taken away");
        }
    }

    // A port at the wrong speed may never bring a line end: bytes count, not lines.
    private void Came(ReadOnlySpan<byte> bytes)
    {
        if (!bytes.ContainsAnyExcept(" \r\n"u8))
            return;
        lock (turn)
            unreadSince ??= At();
    }

    /// <summary>Where something has come for long and none of it could be read, no answer is waited for any longer: homing would go on for minutes.</summary>
    private void LookWhetherReadable()
    {
        lock (turn)
        {
            if (unreadSince is not { } since || At() - since <= UnreadTime)
                return;
            unreadSince = null;
        }
        Feed(at => new GateEvent.Faulted(at, Unreadable));
        owedSince = At();
        exchange.GiveUp(Unreadable, staysOwed: true);
    }

    private void Understand(Answer answer)
    {
        if (answer is Answer.Noise)
        {
            if (++noise == NoiseLimit)
                Feed(at => new GateEvent.Faulted(at, Unreadable));
            return;
        }
        noise = 0;
        lock (turn)
            (heard, heardAt, unreadSince) = (true, At(), null);
        switch (answer)
        {
            case Answer.Done when !exchange.Close(content => new LineResult.Taken(content)):
                Unasked();
                break;
            case Answer.Refused refused when !exchange.Close(_ => new LineResult.Refused(refused.Code)):
                Unasked();
                break;
            case Answer.Alarm alarm:
                Report(memory.After(alarm));
                break;
            case Answer.Status status:
                exchange.Content(status);
                StateReport report;
                lock (turn)
                    report = memory.After(status, At());
                Report(report);
                break;
            case Answer.Switch pressed:
                memory.After(pressed);
                break;
            case Answer.Setting setting:
                exchange.Content(setting);
                break;
            case Answer.Resend:
                Feed(at => new GateEvent.Faulted(at, "the controller did not understand a line and asks for it again"));
                break;
            case Answer.Greeting:
                Greeted();
                break;
        }
    }

    private void Report(StateReport report)
    {
        lock (turn)
            told = report;
        Feed(at => new GateEvent.Reported(at, report));
    }

    private void Greeted()
    {
        memory.Forget();
        exchange.GiveUp("the controller restarted", staysOwed: false);
        exchange.Forgive();
        Feed(at => new GateEvent.Greeted(at));
        // Last: whoever waits for it asks at once, and that question is not one of before the restart.
        greeted.TrySetResult();
    }

    private void Unasked()
    {
        if (Now.Gate.LinkInStep)
            Feed(at => new GateEvent.Faulted(at, "an answer came that belongs to no question"));
    }

    /// <summary>Sends a line and waits for its answer, never without an end.</summary>
    private async Task<LineResult> LineAsync(string line, TimeSpan notAfter, long epoch, TimeSpan longest, Action? left = null)
    {
        if (Dialect.TooLong(line) is { } tooLong)
            return new LineResult.NotSent(Fate.Dropped, tooLong);
        if (exchange.Open() is not { } answer)
            return new LineResult.NotSent(Fate.Dropped, "the answer to an earlier line has not come");
        var fate = await writer.SendAsync(line + "\n", notAfter, epoch).ConfigureAwait(false);
        if (fate != Fate.Left)
        {
            exchange.GiveUp("", staysOwed: false);
            return new LineResult.NotSent(fate);
        }
        left?.Invoke();
        try
        {
            return await answer.WaitAsync(longest, time, ending.Token).ConfigureAwait(false);
        }
        catch (TimeoutException)
        {
            exchange.GiveUp("", staysOwed: true);
            owedSince = At();
            return new LineResult.Unanswered("a line was not answered in its time");
        }
        catch (OperationCanceledException)
        {
            exchange.GiveUp("", staysOwed: false);
            return new LineResult.Unanswered("the link is closed");
        }
    }

    private TimeSpan owedSince;

    /// <summary>Sends what the gate let through. The last guard stands here: no word that begins with M, S or T goes out as motion.</summary>
    private async Task SendAsync(ImmutableArray<string> lines, TimeSpan notAfter, long epoch, TimeSpan longest, double seconds)
    {
        for (var i = 0; i < lines.Length; i++)
        {
            if (DialectWords.Forbidden(lines[i]))
            {
                Feed(at => new GateEvent.Faulted(at, "the dialect would have sent a word that this program never sends"));
                return;
            }
            Action left = i == 0 ? () => Feed(at => new GateEvent.Left(at)) : () => { };
            memory.BusyUntil = TimeSpan.MaxValue;
            var result = await LineAsync(lines[i], i == 0 ? notAfter : TimeSpan.MaxValue, epoch, longest, left).ConfigureAwait(false);
            // Ramps make a move longer than distance over speed; where no word tells rest, rest is not believed before.
            memory.BusyUntil = At() + TimeSpan.FromSeconds(seconds * 1.05 + 0.3);
            if (result is not LineResult.Taken)
            {
                NotTaken(result, first: i == 0);
                return;
            }
        }
        Feed(at => new GateEvent.Accepted(at));
    }

    private void NotTaken(LineResult result, bool first)
    {
        switch (result)
        {
            case LineResult.Refused refused:
                Feed(at => new GateEvent.RefusedLine(at, Refusal(refused.Code)));
                break;
            case { } when Owing(result) is { } why:
                Feed(at => new GateEvent.Faulted(at, why));
                break;
            case LineResult.NotSent { Fate: Fate.Voided } when first:
                Feed(at => new GateEvent.Voided(at));
                break;
            case LineResult.NotSent { Fate: Fate.Voided }:
                Feed(at => new GateEvent.Faulted(at, "the rest of a move could not be sent in time"));
                break;
        }
    }

    // Why an answer is owed: to this line, or to an earlier one that keeps it back.
    private static string? Owing(LineResult result) => result switch
    {
        LineResult.Unanswered { Why: var why } => why,
        LineResult.NotSent { Why: { } why } => why,
        _ => null,
    };

    private string Refusal(string code) => Dialect.Refusals.GetValueOrDefault(code, "the controller refused a line");

    /// <summary>One thing at a time: what was confirmed first, then the question for the state where that is a line.</summary>
    private async Task TalkAsync()
    {
        var polls = 0;
        var byLine = Dialect.Status.Form == StatusForm.Letters;
        var coming = jobs.Reader.WaitToReadAsync(ending.Token).AsTask();
        while (!ending.IsCancellationRequested && !pump.IsCompleted)
        {
            if (jobs.Reader.TryRead(out var job))
            {
                await job().ConfigureAwait(false);
                continue;
            }
            if (byLine)
            {
                var switches = Dialect.Status.AskSwitches is not null && polls++ % 10 == 0;
                var result = await LineAsync(switches ? Dialect.Status.AskSwitches! : Dialect.Status.Ask, TimeSpan.MaxValue, writer.Epoch, AnswerTime)
                    .ConfigureAwait(false);
                // A board may have no word for its switches; one that refuses to tell its state is to be read like any refusal.
                if (result is LineResult.Refused refused && !switches)
                    Feed(at => new GateEvent.RefusedLine(at, Refusal(refused.Code)));
                if (Owing(result) is { } why && !ending.IsCancellationRequested && At() - owedSince < Tick)
                    Feed(at => new GateEvent.Faulted(at, why));
            }
            // One wait for the next job, however often the state is asked for in between.
            if (coming.IsCompleted)
                coming = jobs.Reader.WaitToReadAsync(ending.Token).AsTask();
            await Task.WhenAny(coming, byLine ? Task.Delay(Tick, time, ending.Token) : pump).ConfigureAwait(false);
        }
        while (jobs.Reader.TryRead(out var rest))
            await rest().ConfigureAwait(false);
    }

    /// <summary>Lets time into the gate, asks for the state where that is a byte, and looks whether the device is still there.</summary>
    private async Task WatchAsync()
    {
        var asked = TimeSpan.MinValue;
        while (!ending.IsCancellationRequested && !pump.IsCompleted)
        {
            clock.Compare();
            Feed(at => new GateEvent.Passed(at));
            if (!transport.Alive)
            {
                Lose("the device is gone: cable out, power off, or the port was taken away");
                return;
            }
            LookWhetherReadable();
            if (At() - owedSince > OwedTime)
                exchange.Forgive();
            if (Dialect.Status.Form == StatusForm.Bracketed && (heardAt > asked || At() - asked > TimeSpan.FromSeconds(0.4)))
            {
                asked = At();
                _ = writer.SendAsync(Dialect.Status.Ask, asked + MotionTable.AnswerLasts, writer.Epoch);
            }
            try
            {
                await Task.Delay(Tick, time, ending.Token).ConfigureAwait(false);
            }
            catch (OperationCanceledException)
            {
                return;
            }
        }
    }

    private async Task<T> JobAsync<T>(Func<Task<T>> work, T ended)
    {
        var done = new TaskCompletionSource<T>(TaskCreationOptions.RunContinuationsAsynchronously);
        if (!jobs.Writer.TryWrite(async () => done.TrySetResult(await work().ConfigureAwait(false))))
            return ended;
        await Task.WhenAny(done.Task, talk).ConfigureAwait(false);
        return done.Task.IsCompleted ? await done.Task.ConfigureAwait(false) : ended;
    }

    private async Task<Outcome<ImmutableArray<SavedSetting>>> ListAsync()
    {
        var result = await LineAsync(Dialect.Settings.List, TimeSpan.MaxValue, writer.Epoch, TimeSpan.FromSeconds(5)).ConfigureAwait(false);
        if (result is not LineResult.Taken taken)
            return Failed("the settings could not be read", result);
        return taken.Told.OfType<Answer.Setting>().Select(Saved).ToImmutableArray();
    }

    private SavedSetting Saved(Answer.Setting told)
    {
        var known = Dialect.Settings.Find(told.Key);
        var number = double.TryParse(told.Text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value);
        var name = known is null ? null : known.Axis is { } axis ? $"{known.Name} {axis}" : known.Name;
        return new(PlainText.Of(told.Key), name, known?.Unit, PlainText.Of(told.Text), number ? value : null);
    }

    private Problem Failed(string what, LineResult result) => result switch
    {
        LineResult.Refused refused => new($"{what}: {Refusal(refused.Code)}", "Bring the controller to rest and try again"),
        LineResult.Unanswered unanswered => new($"{what}: {unanswered.Why}", "Check the cable and try again"),
        LineResult.NotSent { Why: { } why } => new($"{what}: it was not asked for: {why}", "Check the cable and try again"),
        _ => new($"{what}: it was not asked for", "Try again"),
    };
}
