namespace Commission.Core.Tests.Characteristics;

public sealed class ParameterWordsTests
{
    [Theory]
    [InlineData("scaleError", "scale error")]
    [InlineData("scaleErrorX", "scale error X")]
    [InlineData("reversal", "lost motion")]
    [InlineData("reversal[210]", "lost motion at 210 mm")]
    [InlineData("tir[45]", "runout at 45 mm")]
    [InlineData("iso.meanB", "mean B of ISO 230-2")]
    [InlineData("iso.Eup", "Eup of ISO 230-2")]
    public void A_parameter_is_called_in_words(string parameter, string words) => Assert.Equal(words, ParameterWords.Of(parameter));

    [Fact]
    public void No_parameter_of_any_kind_is_called_by_its_name_in_code() =>
        Assert.All(CharacteristicKinds.All.SelectMany(kind => kind.Parameters).Where(spec => !spec.Name.StartsWith('[')), spec => Assert.DoesNotMatch("[a-z][A-Z]|\\.", ParameterWords.Of(spec.Name)));

    [Fact]
    public void Lost_motion_is_the_opposite_of_the_reversal_value_and_its_interval_turns_with_it()
    {
        var told = ParameterWords.Told(new FittedParameter { Name = "reversalX", Unit = "mm", Value = -0.05, Interval = new Interval(-0.06, -0.03) });
        Assert.Equal((0.05, 0.03, 0.06), (told.Value, told.Interval!.Value.Low, told.Interval.Value.High));
        Assert.Equal(0.001, ParameterWords.Told(new FittedParameter { Name = "scaleError", Unit = "1", Value = 0.001 }).Value);
    }
}
