using System.Collections.Concurrent;
using System.Runtime.Versioning;
using Commission.App.Attended;
using Commission.App.CommandLine;
using Commission.Tests;

namespace Commission.App.Tests.Attended;

/// <summary>Standard input has one reader: a line that is STOP must not be taken by one that is left over from an earlier run.</summary>
[UnsupportedOSPlatform("windows")]
public sealed class TypedLinesTests : OwnFolder
{
    [Fact]
    public void A_run_looks_at_the_lines_of_its_own_time_alone()
    {
        using var keyboard = new Keyboard();
        var here = new Surroundings { In = keyboard, Out = TextWriter.Null, Error = TextWriter.Null, DefaultStore = Folder };
        var typed = here.Typed;
        Assert.Same(typed, here.Typed);
        Assert.Same(typed, here.In);
        var looked = new List<string>();
        using (typed.Watched(() => Looked("first", usesUp: true), TestContext.Current.CancellationToken))
            keyboard.Type("while the first machine moves");
        keyboard.Type("at the bench");
        Assert.Equal("at the bench", here.In.ReadLine());
        using (typed.Watched(() => Looked("second", usesUp: false), TestContext.Current.CancellationToken))
        {
            keyboard.Type("while the second machine rests");
            Assert.Equal("while the second machine rests", here.In.ReadLine());
        }

        Assert.Equal(["first", "second"], looked);

        bool Looked(string run, bool usesUp)
        {
            looked.Add(run);
            return usesUp;
        }
    }

    [Fact]
    public async Task Between_and_after_linked_runs_every_answer_reaches_the_bench()
    {
        var requests = 0;
        var more = new Queue<string>(["attended", "instrument", "", "attended", "instrument", ""]);
        AttendedScene? scene = null;
        using var made = scene = new AttendedScene(Folder, "recheck", AxisName.X, (person, prompt) =>
        {
            var answer = prompt switch
            {
                _ when prompt.StartsWith("ask choose request", StringComparison.Ordinal) => ++requests > 2 ? "quit" : "procedure",
                _ when prompt.StartsWith("ask choose procedure", StringComparison.Ordinal) => "run",
                _ when prompt.StartsWith("ask choose id", StringComparison.Ordinal) => "recheck",
                _ when prompt.StartsWith("ask choose port", StringComparison.Ordinal) => scene!.Board.Options[1],
                _ when prompt.StartsWith("ask choose dialect", StringComparison.Ordinal) => scene!.Board.Options[3],
                _ when prompt.StartsWith("ask choose more", StringComparison.Ordinal) => more.Dequeue(),
                _ when prompt.StartsWith("ask text instrument", StringComparison.Ordinal) => "indicator",
                _ when prompt.StartsWith("ask choose axis", StringComparison.Ordinal) => "X",
                _ when prompt.StartsWith("ask confirm hazards", StringComparison.Ordinal) => "no",
                _ => null,
            };
            if (answer is not null)
                person.Type(answer);
            return answer is not null;
        });
        var bench = Task.Run(() => scene.BenchAsync(), TestContext.Current.CancellationToken);
        await bench.WaitAsync(Patience.Longest, TestContext.Current.CancellationToken);
        Assert.Equal(3, requests);
        Assert.Equal(2, scene.Person.Seen.Split("ask confirm hazards").Length - 1);
    }

    // A line is typed when the one before it was looked at.
    private sealed class Keyboard : TextReader
    {
        private readonly BlockingCollection<string?> lines = [];
        private readonly SemaphoreSlim asked = new(0);

        public void Type(string line)
        {
            asked.Wait();
            lines.Add(line);
            // Asked again: the line before was dealt with.
            asked.Wait();
            asked.Release();
        }

        public override string? ReadLine()
        {
            asked.Release();
            return lines.Take();
        }

        protected override void Dispose(bool disposing)
        {
            // Ends the reading thread.
            lines.Add(null);
            base.Dispose(disposing);
        }
    }
}
