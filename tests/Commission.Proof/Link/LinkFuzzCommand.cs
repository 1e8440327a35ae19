using System.Diagnostics;
using System.Text;
using System.Text.Json;
using Commission.Core;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;

namespace Commission.Proof.Link;

/// <summary>
/// <c>link-fuzz [--short] [--seed N]</c>: a million mutated answer lines through a whole link, ten thousand mutated dialect files through
/// the reader; a twentieth of both in the short form. Nothing may escape, hang, or reach a person unstripped.
/// </summary>
internal static class LinkFuzzCommand
{
    private const int Lines = 1_000_000;
    private const int Files = 10_000;
    private static readonly TimeSpan LongestFile = TimeSpan.FromSeconds(5);

    internal static int Run(bool brief, int seed)
    {
        var share = brief ? 20 : 1;
        var watch = Stopwatch.StartNew();
        var wrong = AnswerFaults(Lines / share, seed);
        var (read, refused) = Dialects(Files / share, seed, wrong);
        foreach (var one in wrong.Take(20))
            Console.Out.WriteLine("link-fuzz: " + Words.Clean(one));
        Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"link-fuzz: {Lines / share} answer lines, {Files / share} dialect files ({read} readable, {refused} refused in words), seed {seed}, {watch.Elapsed.TotalSeconds:F0} s, {wrong.Count} faults"));
        return wrong.Count == 0 ? 0 : 1;
    }

    /// <summary>What went wrong while so many mutated answer lines came over a link, both dialects together; empty where nothing did.</summary>
    internal static List<string> AnswerFaults(int lines, int seed) =>
        [.. ShippedDialects.Names.SelectMany(name => Answers(ShippedDialects.Find(name)!, lines / ShippedDialects.Names.Length, seed).GetAwaiter().GetResult())];

    /// <summary>What went wrong while so many mutated dialect files were read; empty where nothing did.</summary>
    internal static List<string> FileFaults(int files, int seed)
    {
        var wrong = new List<string>();
        Dialects(files, seed, wrong);
        return wrong;
    }

    private static async Task<IReadOnlyList<string>> Answers(Dialect dialect, int count, int seed)
    {
        var wrong = new List<string>();
        var said = new FuzzTransport(dialect, count, seed);
        var opened = await ControllerLink.OpenAsync(said, dialect, ConnectController.NoMachine, new ScaledTime(20), CancellationToken.None).ConfigureAwait(false);
        if (opened is not Outcome<ControllerLink>.Good { Value: var link })
            return ["the link could not be opened"];
        await using (link.ConfigureAwait(false))
        {
            var states = 0;
            link.Changed += now =>
            {
                // Every state could be shown; every tenth is.
                if (++states % 10 == 0)
                    Shown(now, wrong);
            };
            link.TellIdentity(true);
            await said.Over.WaitAsync(TimeSpan.FromMinutes(10)).ConfigureAwait(false);
            var settings = await link.SettingsAsync(CancellationToken.None).WaitAsync(TimeSpan.FromSeconds(30)).ConfigureAwait(false);
            if (settings is Outcome<System.Collections.Immutable.ImmutableArray<Core.History.SavedSetting>>.Good { Value: var told })
                Check(string.Concat(told.Select(one => one.Key + one.Text + one.Name)), wrong);
        }

        return said.Sent.Any(line => dialect.Motion.Move.Any(one => line.StartsWith(one.Split('{')[0], StringComparison.Ordinal)) && line != dialect.Motion.Move[^1])
            ? [.. wrong, "an answer made a move leave"] : wrong;
    }

    private static void Shown(LinkSnapshot now, List<string> wrong)
    {
        Check(WatchController.Line(now), wrong);
        Check(now.Gate.Trouble ?? "", wrong);
        try
        {
            using var json = JsonDocument.Parse(JsonText.Of(writer => WatchController.Write(writer, now, DateTimeOffset.UnixEpoch)));
        }
        catch (Exception escaped) when (escaped is JsonException or ArgumentException)
        {
            lock (wrong)
                wrong.Add("a state is no JSON: " + escaped.Message);
        }
    }

    private static void Check(string shown, List<string> wrong)
    {
        if (shown == Words.Clean(shown))
            return;
        lock (wrong)
            wrong.Add($"shown unstripped: {PlainText.Of(shown)}");
    }

    private static (int Read, int Refused) Dialects(int count, int seed, List<string> wrong)
    {
        var chance = new Random(seed);
        var (read, refused) = (0, 0);
        for (var i = 0; i < count; i++)
        {
            var text = Mutation.Text(ShippedDialects.Text(ShippedDialects.Names[i % ShippedDialects.Names.Length]), chance);
            var watch = Stopwatch.StartNew();
            try
            {
                switch (DialectReader.Read("mutated.yaml", text))
                {
                    case Outcome<Dialect>.Good { Value: var dialect }:
                        read++;
                        Obeys(dialect, wrong);
                        break;
                    case Outcome<Dialect>.Bad bad:
                        refused++;
                        foreach (var problem in bad.Problems)
                            Check(problem.What + problem.Remedy, wrong);
                        break;
                }
            }
#pragma warning disable CA1031 // What escapes is what is looked for.
            catch (Exception escaped)
#pragma warning restore CA1031
            {
                wrong.Add($"escaped from a dialect file ({i}): {escaped.GetType().Name} {escaped.Message}");
            }

            if (watch.Elapsed > LongestFile)
                wrong.Add($"a dialect file took {watch.Elapsed.TotalSeconds:F0} s ({i})");
        }

        return (read, refused);
    }

    // A file that is readable is one that the link would use: no forbidden word, and any line has a meaning.
    private static void Obeys(Dialect dialect, List<string> wrong)
    {
        var lines = MotionLines.Of(dialect, new(Core.Machines.AxisName.X, 12.5, 600)).Concat(dialect.Motion.Home).Append(dialect.Motion.Unlock ?? "");
        if (lines.Any(DialectWords.Forbidden))
            wrong.Add("a readable dialect sends a word that is never sent");
        if (dialect.Stop.Code.Length == 0)
            wrong.Add("a readable dialect has no stop");
        var reader = new LineReader(dialect);
        foreach (var line in FuzzTransport.Samples(dialect))
            reader.Read(line);
    }
}

/// <summary>Says mutated lines as fast as they are read, and keeps what was sent.</summary>
internal sealed class FuzzTransport : ITransport
{
    private readonly Dialect dialect;
    private readonly Random chance;
    private readonly string[] samples;
    private readonly TaskCompletionSource over = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly List<string> sent = [];
    private readonly SemaphoreSlim asked = new(0);
    private readonly int total;
    private int left;

    public FuzzTransport(Dialect dialect, int count, int seed) =>
        (this.dialect, chance, samples, total, left) = (dialect, new(seed), Samples(dialect), count, count);

    /// <summary>All lines have been said.</summary>
    public Task Over => over.Task;

    /// <summary>What was sent.</summary>
    public IReadOnlyList<string> Sent => sent;

    public string? Remark => null;

    public bool Alive => true;

    /// <summary>Lines of the kinds a controller says.</summary>
    public static string[] Samples(Dialect dialect) =>
    [
        dialect.Answers.GreetingSample, .. dialect.Answers.Done, .. dialect.Answers.Refused.Select(one => one + "9"), .. dialect.Answers.Alarm.Select(one => one + "1"),
        .. dialect.Answers.Busy, .. dialect.Answers.Resend, .. dialect.Answers.Remark.Select(one => one + " M92 X320.00 Y320.00 Z320.00"),
        "<Idle|MPos:12.500,-3.000,0.000|FS:0,0|Pn:XZ>", "<Hold:0|WPos:1.0,2.0,3.0|WCO:0.0,0.0,0.0>", "<Alarm|MPos:0.000,0.000,0.000>",
        "X:12.50 Y:-3.00 Z:0.00 E:0.00 Count X:4000 Y:-960 Z:0", "x_max: TRIGGERED", "$100=320.000", "$130=420.000 (x travel)", "M92 X320.00 Y320.00",
    ];

    public async ValueTask<int> ReadAsync(Memory<byte> into, CancellationToken cancellation)
    {
        if (left <= 0)
        {
            over.TrySetResult();
            // From now on an orderly board: what comes after the storm is understood again.
            await asked.WaitAsync(cancellation).ConfigureAwait(false);
            return Fill(into, Calm());
        }

        // At first one that can be understood, else nobody would listen.
        var lines = left == total ? Calm() : string.Concat(Enumerable.Range(0, 20).Select(_ => Mutation.Line(samples[chance.Next(samples.Length)], chance) + "\n"));
        left -= 20;
        return Fill(into, lines);
    }

    private string Calm() => dialect.Status.Form == StatusForm.Bracketed ? "<Idle|MPos:0.000,0.000,0.000>\nok\n" : "X:0.00 Y:0.00 Z:0.00 E:0.00\nok\n";

    private static int Fill(Memory<byte> into, string text)
    {
        var bytes = Encoding.Latin1.GetBytes(text);
        var length = Math.Min(bytes.Length, into.Length);
        bytes.AsMemory(0, length).CopyTo(into);
        return length;
    }

    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellation)
    {
        lock (sent)
            if (sent.Count < 10_000)
                sent.Add(Encoding.Latin1.GetString(bytes.Span).TrimEnd('\n'));
        asked.Release();
        return ValueTask.CompletedTask;
    }

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;
}

/// <summary>Changes texts as noise, cut cables and clumsy editors do.</summary>
internal static class Mutation
{
    /// <summary>A line changed in one to four places.</summary>
    public static string Line(string line, Random chance)
    {
        for (var changes = chance.Next(0, 4); changes > 0; changes--)
            line = Once(line, chance);
        return line;
    }

    /// <summary>A text of many lines changed in one to five places, some of them whole lines.</summary>
    public static string Text(string text, Random chance)
    {
        var lines = text.Split('\n').ToList();
        for (var changes = chance.Next(1, 6); changes > 0; changes--)
        {
            var at = chance.Next(lines.Count);
            switch (chance.Next(7))
            {
                case 0: lines.RemoveAt(at); break;
                case 1: lines.Insert(at, lines[chance.Next(lines.Count)]); break;
                case 2: lines[at] = lines[at].TrimStart(); break;
                case 3: lines[at] = new string(' ', chance.Next(1, 60)) + lines[at]; break;
                default: lines[at] = Once(lines[at], chance); break;
            }

            if (lines.Count == 0)
                lines.Add("");
        }

        return string.Join('\n', lines);
    }

    private static string Once(string line, Random chance)
    {
        var at = chance.Next(line.Length + 1);
        return chance.Next(9) switch
        {
            0 => line[..at],
            1 => line[..at] + Letter(chance) + line[at..],
            2 => line.Length > 0 ? line.Remove(Math.Min(at, line.Length - 1), 1) : line,
            3 => line + line,
            4 => line[..at] + new string(Letter(chance), chance.Next(1, 2000)) + line[at..],
            5 => line.Replace('0', '9'),
            6 => line[..at] + "1e308" + line[at..],
            7 => line[..at] + "\u001b[2J\u0007" + line[at..],
            _ => line[at..] + line[..at],
        };
    }

    private static char Letter(Random chance)
    {
        var letter = (char)chance.Next(0, 256);
        return letter is '\n' ? ':' : letter;
    }
}
